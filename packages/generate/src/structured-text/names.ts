/**
 * Names: case does not count, no two underscores in a row, none at the end, at most 32 characters (the standard asks for six
 * significant ones only; compilers commonly give 32). Whatever becomes of a name is reported.
 */
import type { ImageLayout, Layout, PlacedPoint, Problem } from "byterail";
import { nameTable } from "../names.js";
import { reserved } from "./reserved.js";

/** Most characters of a name. */
const longest = 32;
/** What the names of types and function blocks add to that of the station, at most. */
const longestTail = "_DivideDint".length;
/** Room for a number that tells equal names apart. */
const numberRoom = "_99999".length;

/** Names of the file. */
export interface Names {
  /** Before every type, function and function block. */
  readonly prefix: string;
  readonly notes: readonly Problem[];
}

/** Names of one image: of a member for each point, and for its health. */
export interface MemberNames {
  readonly of: (point: PlacedPoint) => string;
  readonly healthOf: (point: PlacedPoint) => string;
  readonly notes: readonly Problem[];
}

/** The prefix that keeps the declarations of several stations apart. No reserved word goes on as the names that it begins. */
export function fileNames({ station: { name } }: Layout): Names {
  const { of, notes } = cleaned([name], "station", longest - longestTail, new Set());
  return { prefix: of(name), notes };
}

/** Members of the STRUCT of one image. Points come first, so none of them has to give way to the health of another. */
export function memberNames({ direction, points }: ImageLayout, withHealth: readonly PlacedPoint[]): MemberNames {
  const healthKey = (point: PlacedPoint) => point.name + healthKeyTail;
  const { of, notes } = cleaned(
    [...points.map(({ name }) => name), ...withHealth.map(healthKey)],
    direction,
    longest,
    reserved,
  );
  return { of: (point) => of(point.name), healthOf: (point) => of(healthKey(point)), notes };
}

function cleaned(names: readonly string[], where: string, maxLength: number, reserved: ReadonlySet<string>) {
  const table = (room: number) =>
    nameTable(names, where, {
      target: "Structured Text",
      reserved,
      case: "insensitive",
      maxLength,
      style: styleFor(maxLength, room),
      suffix: "_point",
    });
  // A number that tells equal names apart may cut a long one at an underscore; then all long ones leave room for a number.
  const first = table(0);
  const { of } = names.every((name) => isLegal(first.of(name))) ? first : table(numberRoom);
  const notes = names
    .filter((name) => of(name) !== name.replace(" ", "_"))
    .map((name) => ({
      code: "name.changed",
      path: `${where} › ${name}`,
      message: `is called ${of(name)} in Structured Text`,
    }));
  return { of, notes };
}

function isLegal(name: string): boolean {
  return !/__|_$/.test(name);
}

function styleFor(maxLength: number, room: number) {
  return (name: string) => {
    const tail = name.endsWith(healthKeyTail) ? "_health" : "";
    const single = (tail ? name.slice(0, -tail.length) : name).replace(/_+/g, "_").replace(/_$/, "");
    return single.slice(0, maxLength - room - tail.length).replace(/_$/, "") + tail;
  };
}

// A blank, which no name holds, tells the health of a point from a point that is named so.
const healthKeyTail = " health";
