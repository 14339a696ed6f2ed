// The package carries no types: only what the tests call.

declare module "markdown-it" {
  interface Token {
    readonly type: string;
    readonly content: string;
    readonly children: readonly Token[] | null;
  }
  export default class MarkdownIt {
    constructor(options: { html: boolean; linkify: boolean });
    parse(text: string, environment: object): Token[];
  }
}
