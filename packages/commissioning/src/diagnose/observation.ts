/**
 * Observations: frames as they were captured, each with what is known to be true in it. Data from outside is checked here
 * once, all problems at a time. A frame of another length than the description says is no problem but evidence.
 */
import { ByterailError, type Direction, type ImageLayout, type Layout, type PlacedPoint, type Problem } from "byterail";
import { fromHex } from "byterail/frames";

/** What is known of a point: its value, for a number with the error that it may have. */
export type Known = boolean | number | string | { readonly value: boolean | number | string; readonly within?: number };

/** One frame, or one of each direction captured together, and what is known to be true in it. */
export interface Observation {
  /** Bytes of the inputs as hex pairs. */
  readonly inputs?: string;
  /** Bytes of the outputs as hex pairs. */
  readonly outputs?: string;
  /** What is known, by point; 64-bit integers as decimal text. Without `within` a number is known to the count. */
  readonly known: Readonly<Record<string, Known>>;
  /** Free text. */
  readonly title?: string;
}

/** An observation that has been checked. */
export interface CheckedObservation {
  readonly frames: Readonly<Partial<Record<Direction, Uint8Array>>>;
  readonly known: readonly {
    readonly point: PlacedPoint;
    readonly direction: Direction;
    readonly value: boolean | number | bigint;
    readonly within: number;
  }[];
}

/**
 * Checks observations against the station that they were made on.
 *
 * @param data a list of observations
 * @throws `ByterailError` with every problem found
 */
export function checkObservations(layout: Layout, data: unknown): readonly CheckedObservation[] {
  const problems: Problem[] = [];
  const note = (code: string, path: string, message: string) => void problems.push({ code, path, message });
  if (!Array.isArray(data)) {
    note("observations.list", "observations", "must be a list of { inputs or outputs, known }");
    throw new ByterailError(problems);
  }
  const checked = data.map((each: unknown, k) => checkOne(layout, each, `observations[${k}]`, note));
  if (data.length === 0) note("observations.list", "observations", "must hold one observation or more");
  if (problems.length > 0) throw new ByterailError(problems);
  return checked;
}

type Note = (code: string, path: string, message: string) => void;

const directions = ["inputs", "outputs"] as const;
const keys = ["inputs", "outputs", "known", "title"];

function checkOne(layout: Layout, data: unknown, path: string, note: Note): CheckedObservation {
  const frames: Partial<Record<Direction, Uint8Array>> = {};
  const known: CheckedObservation["known"][number][] = [];
  if (!isRecord(data)) {
    note("observation.shape", path, "must be an object { inputs or outputs, known }");
    return { frames, known };
  }
  for (const key of Object.keys(data))
    if (!keys.includes(key) && !key.startsWith("x-"))
      note("observation.key", `${path}.${key}`, `is no key of an observation; known are ${keys.join(", ")}`);
  for (const direction of directions) {
    const bytes = bytesOf(data[direction], `${path}.${direction}`, note);
    if (bytes) frames[direction] = bytes;
  }
  if (data.inputs === undefined && data.outputs === undefined)
    note("observation.frame", path, "needs the bytes of inputs or outputs");
  if (!isRecord(data.known)) {
    note("observation.known", `${path}.known`, "must be an object of what is known, by point");
    return { frames, known };
  }
  for (const [name, given] of Object.entries(data.known)) {
    const place = `${path}.known.${name}`;
    const found = find(layout, name, data, place, note);
    const truth = truthOf(given, found?.point ?? null, place, note);
    if (found && truth) known.push({ ...found, ...truth });
  }
  return { frames, known };
}

function bytesOf(given: unknown, path: string, note: Note): Uint8Array | null {
  if (given === undefined) return null;
  if (typeof given !== "string") {
    note("hex.syntax", path, "must be a text of hex pairs");
    return null;
  }
  try {
    return fromHex(given);
  } catch (error) {
    if (!(error instanceof ByterailError)) throw error;
    for (const { code, message } of error.problems) note(code, path, message);
    return null;
  }
}

// A command and its feedback may share a name; the frame tells which is meant, unless it has both directions.
function find(
  layout: Layout,
  name: string,
  data: Readonly<Record<string, unknown>>,
  path: string,
  note: Note,
): { readonly point: PlacedPoint; readonly direction: Direction } | null {
  const everywhere = directions.flatMap((direction) => {
    const point = (layout[direction] as ImageLayout).points.find((each) => each.name === name);
    return point ? [{ point, direction }] : [];
  });
  const here = everywhere.filter(({ direction }) => data[direction] !== undefined);
  if (here.length === 1) return here[0]!;
  if (here.length > 1)
    note(
      "known.ambiguous",
      path,
      "is a point of the inputs and of the outputs; give the two frames as observations of their own",
    );
  else if (everywhere.length > 0)
    note(
      "known.direction",
      path,
      `is a point of the ${everywhere[0]!.direction}, of which this observation has no frame`,
    );
  else note("known.unknown", path, `is no point of the station${nearest(layout, name)}`);
  return null;
}

function nearest(layout: Layout, name: string): string {
  const names = directions.flatMap((direction) => (layout[direction] as ImageLayout).points.map((point) => point.name));
  const alike = names.find((each) => each.toLowerCase() === name.toLowerCase());
  return alike ? `; did you mean ${alike}?` : "";
}

function truthOf(
  given: unknown,
  point: PlacedPoint | null,
  path: string,
  note: Note,
): { value: boolean | number | bigint; within: number } | null {
  const whole = isRecord(given);
  const value = whole ? given.value : given;
  const within = whole ? (given.within ?? 0) : 0;
  if (whole)
    for (const key of Object.keys(given))
      if (key !== "value" && key !== "within")
        note("known.key", `${path}.${key}`, "is no key of what is known; there are value and within");
  if (typeof within !== "number" || !(within >= 0 && within < Infinity)) {
    note("known.within", `${path}.within`, "must be a number of 0 or more, in the unit of the value");
    return null;
  }
  if (!point) return null;
  if (point.kind === "boolean") {
    if (typeof value === "boolean") return { value, within: 0 };
    note("known.type", path, "must be true or false");
    return null;
  }
  const wide = point.kind === "integer" && point.bits > 53;
  if (wide && typeof value === "string" && /^-?\d{1,32}$/.test(value)) return { value: BigInt(value), within };
  if (typeof value === "number" && Number.isFinite(value))
    return { value: wide && Number.isInteger(value) ? BigInt(value) : value, within };
  note(
    "known.type",
    path,
    wide ? "must be a whole number, as a number or as decimal text" : "must be a number, or { value, within }",
  );
  return null;
}

function isRecord(data: unknown): data is Readonly<Record<string, unknown>> {
  return typeof data === "object" && data !== null && !Array.isArray(data);
}
