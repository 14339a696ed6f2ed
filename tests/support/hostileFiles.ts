/**
 * The command with files that nobody sound would give it. The oracle: it ends with status 0, 1 or 2; where the status is 1,
 * standard error has nothing but lines `code path: message`; where it is not 0, no file was written.
 */
import { mkdirSync, readdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import { station } from "@byterail/testkit";
import { assemble, type Layout } from "byterail";
import fc from "fast-check";
import { byterail } from "../cli/byterail.js";
import { inFolder } from "../generate/support/programs.js";
import { descriptions, type Outcome, observations } from "./hostile.js";
import { mutated } from "./mutations.js";

/** The texts of the files: two descriptions, and observations. */
export interface HostileFiles {
  readonly station: string;
  readonly revision: string;
  readonly observations: string;
}

/** Sound files and such with accidents in them; one in eight descriptions is cut off. */
export function hostileFiles(): fc.Arbitrary<HostileFiles> {
  return station().chain((sound) => {
    const text = (json: fc.Arbitrary<unknown>) => json.map((data) => JSON.stringify(data));
    const seen = observations(assemble(sound) as Layout);
    return fc.record({
      station: fc.oneof(
        { weight: 4, arbitrary: fc.constant(JSON.stringify(sound)) },
        { weight: 3, arbitrary: text(descriptions()) },
        { weight: 1, arbitrary: text(descriptions()).map((whole) => whole.slice(0, whole.length >> 1)) },
      ),
      revision: text(fc.oneof(mutated(fc.constant(sound)), station())),
      observations: text(fc.oneof(seen, mutated(seen))),
    });
  });
}

/** Runs every command that takes a description. */
export function attackCommand({ station, revision, observations }: HostileFiles): Promise<Outcome[]> {
  const files = Object.entries({ station, revision, observations }).map(([name, text]) => ({
    path: `${name}.json`,
    text,
  }));
  return inFolder(files, async (folder) => {
    const [a, b, seen] = files.map(({ path }) => join(folder, path)) as [string, string, string];
    return [
      attempt(folder, ["check", a]),
      attempt(folder, ["map", a]),
      attempt(folder, ["compare", a, b]),
      attempt(folder, ["diagnose", a, seen], "--apply"),
      attempt(folder, ["generate", a, "--to", "all"], "--out"),
      attempt(folder, ["sheet", a]),
    ];
  });
}

// `writes` is the option that names a file or folder to write.
function attempt(folder: string, args: readonly string[], writes?: string): Outcome {
  const into = join(folder, "made");
  mkdirSync(into);
  const start = performance.now();
  const { status, err } = byterail(writes ? [...args, writes, join(into, "made")] : args);
  const time = performance.now() - start;
  const left = readdirSync(into);
  rmSync(into, { recursive: true });
  const isSound =
    status === 0 ||
    (left.length === 0 &&
      (status === 2 || (status === 1 && /\S/.test(err) && err.trimEnd().split("\n").every(isProblem))));
  return {
    what: `byterail ${args[0]}`,
    time,
    foreign: isSound ? null : `status ${status}, wrote ${left.length} files: ${err}`,
  };
}

function isProblem(line: string): boolean {
  return /^(note )?[a-z][A-Za-z]*\.[A-Za-z]+ .*: ./.test(line);
}
