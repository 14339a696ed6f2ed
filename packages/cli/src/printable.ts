/** A text from outside made fit for one line of a terminal: controls, line breaks and direction marks become escapes. */
export function printable(text: string): string {
  return text.replace(unprintable, (char) => `\\u${char.charCodeAt(0).toString(16).padStart(4, "0")}`);
}

const unprintable = /[\p{Cc}\u2028\u2029\u202a-\u202e\u2066-\u2069]/gu;
