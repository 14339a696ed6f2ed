// Texts that the build puts in: see tsup.config.ts.
declare module "text:*" {
  /** The text of the file, or of the script that was bundled from it. */
  export const text: string;
  /** SHA-256 of the text in base64, as a content security policy names it. */
  export const sha256: string;
}
