/**
 * A target turns a layout into files. It only describes them: a file is a path and a text, and one function at the very
 * edge (the command line's) writes them, all or none.
 */
import type { Layout, Problem } from "byterail";
import type { AddressOptions } from "byterail/map";

/** A file to be written; the path is relative and uses `/`. */
export interface GeneratedFile {
  readonly path: string;
  readonly text: string;
}

/** What one or more targets made. */
export interface Generated {
  readonly files: readonly GeneratedFile[];
  /** What the user should know, e.g. a name that had to be changed for a target. */
  readonly notes: readonly Problem[];
}

/** What the user may choose; each target reads what concerns it. */
export interface GenerateOptions {
  /** Structured Text and bit copies: width of the elements in which the controller exposes the image, in bits. */
  readonly elements?: 8 | 16 | 32;
  /** Structured Text and bit copies: which byte of an element holds the lower image byte. Default `lowFirst`. */
  readonly elementOrder?: "lowFirst" | "highFirst";
  /** Structured Text: scaling in whole numbers (fixed point), REAL or LREAL. Default `integer`. */
  readonly arithmetic?: "integer" | "real" | "lreal";
  /** Structured Text, `integer`: decimals of the fixed-point value, 0 to 6. By default as many as the scale needs, up to 3. */
  readonly decimals?: number;
  /** Tables and declarations: how addresses are written. */
  readonly addresses?: { readonly inputs?: AddressOptions; readonly outputs?: AddressOptions };
  /** The command as the header line tells it. Default `byterail generate`. */
  readonly command?: string;
}

/** What a target works from. */
export interface Source {
  readonly layout: Layout;
  readonly options: GenerateOptions;
  /** Lines for the top of each file, without comment signs: the command, the station, the digest of its description. */
  readonly header: readonly string[];
}

/** A target. */
export interface Target {
  /** As given to `--to`. */
  readonly id: string;
  /** One line for lists and help. */
  readonly title: string;
  /** Makes the files of the target. */
  readonly generate: (source: Source) => Generated;
}
