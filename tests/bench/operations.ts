/**
 * The operations that are measured, each with the aim and with the contenders of this project: the code by hand, the
 * runtime, the generated module. An operation that a contender does not have is left out and shows as missing.
 */
import { compileFunction } from "node:vm";
import * as byterail from "byterail";
import * as byterailFrames from "byterail/frames";
import type { ByHand } from "./byHand.js";
import type { Generated } from "./generated.js";
import { type Contender, kept, loop } from "./rounds.js";
import { type Workload, captureOf, frameCount } from "./workloads.js";

/** Whose time is measured. */
export type Who = "hand" | "runtime" | "generated";

/** One row of the table. */
export interface Operation {
  readonly title: string;
  readonly contenders: readonly (Contender & { readonly who: Who })[];
  /** Highest ratio to the code by hand that is aimed at. */
  readonly aims: { readonly runtime?: number; readonly generated?: number };
  /** One repetition counts as so many; time is told for one. */
  readonly per: number;
}

type Aims = readonly [forA: number, forB: number];

const { decode, decodeByModule, encode, encodeInto, patch, pointHandle, view, viewer } = byterail;
const { columns, diff } = byterailFrames;

/** The operations for one workload. */
export function operationsFor(work: Workload, hand: ByHand, module: Generated | null, captured: number): Operation[] {
  const { inputs, frames, five } = work;
  const values = frames.map((frame) => hand.decode(frame));
  const copies = frames.map((frame) => frame.slice());
  const bytes = new Uint8Array(inputs.byteLength);
  const scope = { kept, frames, values, inputs, bytes, hand, module, ...runtime };
  const aim = (aims: Aims) => aims[work.id === "A" ? 0 : 1];
  const by = (who: Who, expression: string, more: object = {}) => ({
    who,
    run: loop(`kept[i & 7] = ${expression};`, { ...scope, ...more }),
  });
  const made = (call: keyof Generated, expression: string) => (module?.[call] ? [by("generated", expression)] : []);
  const all = inputs.points.map(({ name }) => name);
  const frame = "frames[i & 63]";
  const value = "values[i & 63]";
  return [
    {
      title: "decode to a flat object",
      contenders: [
        by("hand", `hand.decode(${frame})`),
        by("runtime", `decode(inputs, ${frame})`),
        ...made("decode", `module.decode(${frame})`),
      ],
      aims: { runtime: aim([8, 2]), generated: 1.1 },
      per: 1,
    },
    {
      title: "decode to one object per module (limit: by hand, flat)",
      contenders: [
        by("hand", `hand.decode(${frame})`),
        by("runtime", `decodeByModule(inputs, ${frame})`),
        ...made("decodeByModule", `module.decodeByModule(${frame})`),
      ],
      aims: { generated: aim([1.1, 0.35]) },
      per: 1,
    },
    {
      title: "encode with all checks",
      contenders: [
        by("hand", `hand.encode(${value})`),
        by("runtime", `encode(inputs, ${value})`),
        ...made("encode", `module.encode(${value})`),
      ],
      aims: { runtime: aim([6, 3.5]), generated: 1.2 },
      per: 1,
    },
    {
      title: "encode into given bytes, with all checks",
      contenders: [
        by("hand", `hand.encodeInto(bytes, ${value})`),
        by("runtime", `encodeInto(inputs, bytes, ${value})`),
        ...made("encodeInto", `module.encodeInto(bytes, ${value})`),
      ],
      aims: { generated: 1.4 },
      per: 1,
    },
    {
      title: "live view: create, read five (limit: by hand, decode flat)",
      contenders: [
        by("hand", `hand.decode(${frame})`),
        {
          who: "runtime",
          run: loop(`const v = viewOf(${frame}); sum += ${sumOf(five)};`, { ...scope, viewOf: viewer(inputs) }),
        },
      ],
      aims: { runtime: aim([0.25, 0.01]) },
      per: 1,
    },
    {
      title: "live view: read all (limit: by hand, decode flat)",
      contenders: [
        by("hand", `hand.decode(${frame})`),
        {
          who: "runtime",
          run: loop("sum += readAll(views[i & 63]);", {
            views: frames.map((one) => view(inputs, one)),
            readAll: compileFunction(`let sum = 0; ${all.map((name) => `sum += +v.${name};`).join(" ")} return sum;`, [
              "v",
            ]),
          }),
        },
      ],
      aims: { runtime: aim([0.6, 1.5]) },
      per: 1,
    },
    ...single(work, hand, five),
    {
      title: "diff of two equal frames (limit: compare the bytes)",
      contenders: [
        { who: "hand", run: loop("sum += +hand.equal(frames[i & 63], copies[i & 63]);", { ...scope, copies }) },
        by("runtime", `diff(inputs, ${frame}, copies[i & 63])`, { copies }),
      ],
      aims: {},
      per: 1,
    },
    {
      title: `columns of ${captured.toLocaleString("en")} frames, per value (limit: the faster of two loops by hand)`,
      contenders: columnContenders(work, hand, captured),
      aims: { runtime: 1.2 },
      per: captured * inputs.points.length,
    },
  ];
}

/** Reading and writing one point on its own: five points of different kinds, one after the other; time is told for one. */
function single({ inputs, frames }: Workload, hand: ByHand, five: Workload["five"]): Operation[] {
  const handles = five.map((name) => pointHandle(inputs, name));
  const values = frames.map((frame) => five.map((name) => hand.read[name]!(frame)));
  const bytes = frames[0]!.slice();
  const scope: Record<string, unknown> = { ...runtime, inputs, frames, values, bytes };
  five.forEach((name, k) => {
    scope[`handle${k}`] = handles[k];
    scope[`read${k}`] = hand.read[name];
    scope[`write${k}`] = hand.write[name];
  });
  const each = (statement: (name: string, k: number) => string) => five.map(statement).join(" ");
  const read = (expression: (name: string, k: number) => string) =>
    loop(`const b = frames[i & 63]; ${each((name, k) => `sum += +${expression(name, k)};`)}`, scope);
  const write = (statement: (name: string, k: number) => string) =>
    loop(`const v = values[i & 63]; ${each(statement)} sum += bytes[0];`, scope);
  const byHandRead = read((_, k) => `read${k}(b)`);
  const byHandWrite = write((_, k) => `write${k}(bytes, v[${k}]);`);
  return [
    {
      title: "read one by handle",
      contenders: [
        { who: "hand", run: byHandRead },
        { who: "runtime", run: read((_, k) => `handle${k}.read(b)`) },
      ],
      aims: { runtime: 1.3 },
      per: 5,
    },
    {
      title: "read one by name, through a live view",
      contenders: [
        { who: "hand", run: byHandRead },
        { who: "runtime", run: read((name) => `view(inputs, b).${name}`) },
      ],
      aims: { runtime: 8 },
      per: 5,
    },
    {
      title: "patch one by handle",
      contenders: [
        { who: "hand", run: byHandWrite },
        { who: "runtime", run: write((_, k) => `handle${k}.write(bytes, v[${k}]);`) },
      ],
      aims: { runtime: 1.3 },
      per: 5,
    },
    {
      title: "patch one by name, with patch",
      contenders: [
        { who: "hand", run: byHandWrite },
        { who: "runtime", run: write((name, k) => `patch(inputs, bytes, { ${name}: v[${k}] });`) },
      ],
      aims: { runtime: 8 },
      per: 5,
    },
    {
      title: "patch one by name, through a live view",
      contenders: [
        { who: "hand", run: byHandWrite },
        { who: "runtime", run: write((name, k) => `view(inputs, bytes).${name} = v[${k}];`) },
      ],
      aims: { runtime: 8 },
      per: 5,
    },
  ];
}

function columnContenders({ inputs }: Workload, hand: ByHand, captured: number): Operation["contenders"] {
  const scope = { kept, frames: captureOf(inputs, captured), inputs, hand, captured, columns };
  const by = (who: Who, call: string) => ({ who, run: loop(`kept[0] = ${call};`, scope) });
  return [
    by("hand", "hand.columns(frames, captured)"),
    by("hand", "hand.columnsByPoint(frames, captured)"),
    by("runtime", "columns(inputs, frames)"),
  ];
}

function sumOf(names: readonly string[]): string {
  return names.map((name) => `+v.${name}`).join(" + ");
}

const runtime = { decode, decodeByModule, diff, encode, encodeInto, patch, pointHandle, view };

/** Throws unless all contenders give the same results for every frame. */
export function checkEqual({ inputs, frames, capture, five }: Workload, hand: ByHand, module: Generated | null): void {
  for (const [k, frame] of frames.entries()) {
    const values = hand.decode(frame);
    const grouped = hand.decodeByModule(frame);
    const claims: readonly (readonly [what: string, got: unknown, wanted: unknown])[] = [
      ["decode", decode(inputs, frame), values],
      ["decodeByModule", decodeByModule(inputs, frame), grouped],
      ["hand encode", hand.encode(values), frame],
      ["encode", encode(inputs, values as never), frame],
      ["encodeInto", encodeInto(inputs, new Uint8Array(inputs.byteLength).fill(255), values as never), frame],
      ["view", { ...Object.fromEntries(inputs.points.map(({ name }) => [name, view(inputs, frame)[name]])) }, values],
      ["generated decode", module?.decode?.(frame) ?? values, values],
      ["generated decodeByModule", module?.decodeByModule?.(frame) ?? grouped, grouped],
      ["generated encode", module?.encode?.(values) ?? frame, frame],
      ["generated encodeInto", module?.encodeInto?.(new Uint8Array(frame.length).fill(255), values) ?? frame, frame],
      ...five.map((name) => [`handle ${name}`, pointHandle(inputs, name).read(frame), values[name]] as const),
      ...five.map((name) => [`hand ${name}`, hand.read[name]!(frame), values[name]] as const),
    ];
    for (const [what, got, wanted] of claims) same(what, k, got, wanted);
    same("diff of equal frames", k, diff(inputs, frame, frame.slice()), []);
    const other = frames[(k + 1) % frameCount]!;
    for (const name of five) {
      const wanted = patch(inputs, other.slice(), { [name]: values[name] } as never);
      const [byHandle, byHand] = [other.slice(), other.slice()];
      pointHandle(inputs, name).write(byHandle, values[name]!);
      hand.write[name]!(byHand, values[name] as never);
      same(`write ${name} by handle`, k, byHandle, wanted);
      same(`write ${name} by hand`, k, byHand, wanted);
    }
  }
  const tables = [
    hand.columns(capture, frameCount),
    hand.columnsByPoint(capture, frameCount),
    columns(inputs, capture).points as Record<string, ArrayLike<number>>,
  ];
  for (const table of tables)
    for (const { name } of inputs.points)
      for (const [k, frame] of frames.entries())
        same(`column ${name}`, k, Number(table[name]?.[k]), Number(hand.decode(frame)[name]));
}

function same(what: string, frame: number, got: unknown, wanted: unknown): void {
  const [one, other] = [got, wanted].map((result) =>
    JSON.stringify(result instanceof Uint8Array ? Array.from(result) : result, sorted),
  );
  if (one !== other) throw new Error(`${what}, frame ${frame}: ${one} is not ${other}`);
}

// Objects that list their keys in another order are equal all the same.
function sorted(_key: string, value: unknown): unknown {
  if (typeof value !== "object" || value === null || Array.isArray(value)) return value;
  return Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)));
}
