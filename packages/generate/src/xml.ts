/** Texts fit for XML and HTML: what the standards forbid is replaced, what has a meaning there is escaped. */
import { oneLine } from "./snippet.js";

/** A text in one line, without the characters that XML 1.0 forbids (section 2.2): lone surrogates, U+FFFE, U+FFFF. */
export function xmlClean(text: string): string {
  return oneLine(text).replace(/[\p{Cs}\uFFFE\uFFFF]/gu, "\uFFFD");
}

/** A text for element content or a quoted attribute. */
export function xmlText(text: string): string {
  return xmlClean(text).replace(/[&<>"']/g, (sign) => entities[sign]!);
}

/** A text for a comment, which must hold no double hyphen and end with none. */
export function xmlComment(text: string): string {
  return `<!-- ${xmlClean(text).replace(/-(?=-)/g, "- ")} -->`;
}

const entities: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};
