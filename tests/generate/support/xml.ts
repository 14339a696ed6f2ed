// XML read by a strict, namespace-aware parser, as a tree.

import { SaxesParser } from "saxes";

/** An element. */
export interface XmlElement {
  readonly name: string;
  readonly namespace: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly XmlElement[];
  /** Its own text, children left out. */
  readonly text: string;
}

/** Reads a document; throws at the first place where it is not well-formed. */
export function readXml(text: string): { readonly root: XmlElement; readonly comments: readonly string[] } {
  type Open = { -readonly [K in keyof XmlElement]: XmlElement[K] } & { children: XmlElement[] };
  const parser = new SaxesParser({ xmlns: true });
  const comments: string[] = [];
  const open: Open[] = [];
  let root: XmlElement | undefined;
  parser.on("error", (error) => {
    throw error;
  });
  parser.on("comment", (comment) => comments.push(comment));
  parser.on("opentag", ({ local, uri, attributes }) => {
    const values = Object.fromEntries(Object.entries(attributes).map(([key, { value }]) => [key, value]));
    const element: Open = { name: local, namespace: uri, attributes: values, children: [], text: "" };
    open.at(-1)?.children.push(element);
    root ??= element;
    open.push(element);
  });
  parser.on("text", (piece) => {
    if (open.length > 0) open.at(-1)!.text += piece;
  });
  parser.on("closetag", () => open.pop());
  parser.write(text).close();
  return { root: root!, comments };
}

/** An element and everything in it. */
export function everyElement(element: XmlElement): XmlElement[] {
  return [element, ...element.children.flatMap(everyElement)];
}

/** The first element at the end of a path of names; throws where there is none. */
export function within(element: XmlElement, ...path: readonly string[]): XmlElement {
  return path.reduce((at, name) => {
    const child = at.children.find((candidate) => candidate.name === name);
    if (!child) throw new Error(`${at.name} has no ${name}`);
    return child;
  }, element);
}
