// What the compiler must infer and what it must refuse, read by types.test.ts: every line is checked by tsc.
// A line after @ts-expect-error has to be an error, or the compiler says that it is none.

import {
  analogInputs,
  assemble,
  bit,
  decode,
  decodeByModule,
  decodeRaw,
  digitalInputs,
  digitalOutputs,
  encode,
  encodeByModule,
  field,
  flag,
  number,
  numberCodec,
  patch,
  pointHandle,
  signalScale,
  station,
  valveBank,
  view,
  word,
} from "byterail";
import { parseStation } from "byterail/schema";

type Same<A, B> = (<T>() => T extends A ? 1 : 2) extends <T>() => T extends B ? 1 : 2 ? true : false;

/** Compiles only where the type of the value is exactly T. */
function expectType<T>() {
  return <V>(_value: V, ..._same: Same<V, T> extends true ? [] : [expected: T]): void => {};
}

const bytes = new Uint8Array(64);

// A literal: names and types of values are inferred without `as const`.
const { inputs, outputs } = assemble({
  format: 1,
  name: "rig",
  byteOrder: "little",
  modules: [
    {
      name: "valves",
      outputs: [
        { name: "rinse", type: "bit" },
        { spareBits: 2 },
        { name: "speed", type: "uint16" },
        { name: "total", type: "uint64" },
      ],
    },
    {
      name: "sensors",
      inputs: [
        { name: "flow", type: "int16", scale: { counts: [0, 1000], value: [0, 10] } },
        { name: "energy", type: "float64" },
        { name: "preset", type: "uint16", code: "bcd" },
        { name: "ticks", type: "int64" },
        {
          word: 128,
          fields: [
            { name: "fault", bit: 0 },
            { name: "n53", bits: 53, shift: 1 },
            { name: "n54", bits: 54, shift: 60 },
          ],
        },
        { spare: 2 },
      ],
    },
    { name: "power" },
  ],
});

const values = decode(inputs, bytes);
expectType<number>()(values.flow);
expectType<number>()(values.energy);
expectType<bigint>()(values.ticks);
expectType<boolean>()(values.fault);
expectType<number>()(values.n53);
expectType<bigint>()(values.n54);
expectType<"flow" | "energy" | "preset" | "ticks" | "fault" | "n53" | "n54">()("" as keyof typeof values);
// @ts-expect-error an output is no input
values.rinse;
// @ts-expect-error an unknown point
values.flwo;
// @ts-expect-error 64 bits are no number
const wrong: number = values.ticks;
void wrong;

// Counts: the pattern of a binary64 is a bigint, that of a bad BCD number a text.
const raw = decodeRaw(inputs, bytes);
expectType<number>()(raw.flow);
expectType<bigint>()(raw.energy);
expectType<number | `16#${string}`>()(raw.preset);

// Every output is needed, each of its own type, and no other.
encode(outputs, { rinse: true, speed: 5, total: 1n });
// @ts-expect-error a missing output
encode(outputs, { rinse: true, speed: 5 });
// @ts-expect-error an unknown output
encode(outputs, { rinse: true, speed: 5, total: 1n, steam: true });
// @ts-expect-error a number is no bit
encode(outputs, { rinse: 1, speed: 5, total: 1n });
// @ts-expect-error 64 bits are a bigint
encode(outputs, { rinse: true, speed: 5, total: 1 });
patch(outputs, bytes, { speed: 5 });
// @ts-expect-error a text is no number
patch(outputs, bytes, { speed: "5" });

// The live view and handles.
const live = view(outputs, bytes);
live.rinse = true;
// @ts-expect-error a number is no bit
live.rinse = 1;
expectType<bigint>()(pointHandle(outputs, "total").read(bytes));
// @ts-expect-error an unknown point
pointHandle(outputs, "ticks");

// By module.
const groups = decodeByModule(inputs, bytes);
expectType<number>()(groups.sensors.flow);
expectType<"sensors">()("" as keyof typeof groups);
// @ts-expect-error the valves have no inputs
groups.valves;
encodeByModule(outputs, { valves: { rinse: true, speed: 1, total: 1n } });
// @ts-expect-error a missing point
encodeByModule(outputs, { valves: { rinse: true, speed: 1 } });

// Builders infer the same names and types.
const built = assemble(
  station({
    name: "rig",
    network: "ethernet-ip",
    modules: [
      digitalInputs("doors", ["closed", bit("locked", { title: "Locked" })]),
      analogInputs("pressures", [
        number("supply", "uint16", { scale: signalScale("4-20 mA", [4000, 20000], [0, 10], "bar") }),
        number("energy", "uint64"),
        word(64, [flag("fault", 0), field("wide", 54, 1), field("narrow", 4, 55)]),
      ]),
      valveBank("valves", ["rinse", "steam"], { outputBytes: 4 }),
      digitalOutputs("lamps", ["red"]),
    ],
  }),
);
const sensed = decode(built.inputs, bytes);
expectType<boolean>()(sensed.closed);
expectType<boolean>()(sensed.locked);
expectType<number>()(sensed.supply);
expectType<bigint>()(sensed.energy);
expectType<boolean>()(sensed.fault);
expectType<bigint>()(sensed.wide);
expectType<number>()(sensed.narrow);
expectType<"rinse" | "steam" | "red">()(
  "" as keyof Parameters<typeof encode<{ rinse: boolean; steam: boolean; red: boolean }>>[1],
);
encode(built.outputs, { rinse: true, steam: false, red: true });
// @ts-expect-error a missing output
encode(built.outputs, { rinse: true, steam: false });
// @ts-expect-error an unknown point
sensed.lokced;

// A station from a file: any name may be asked for.
const read = decode(assemble(parseStation({})).inputs, bytes);
expectType<Record<string, boolean | number | bigint>>()(read);

// Codecs.
expectType<number>()(numberCodec("int32", "big").read(bytes));
expectType<bigint>()(numberCodec("uint64", "little").read(bytes));
expectType<number>()(numberCodec("float64", "little").read(bytes));
// @ts-expect-error the byte order must be said
numberCodec("int16");
// @ts-expect-error no such type
numberCodec("float16", "big");

// Mistakes in a literal are found where they are written.
const head = { format: 1, name: "rig", byteOrder: "big" } as const;
// @ts-expect-error no such type
assemble({ ...head, modules: [{ name: "m", inputs: [{ name: "n", type: "int17" }] }] });
// @ts-expect-error no such byte order
assemble({ format: 1, name: "rig", byteOrder: "native", modules: [] });
// @ts-expect-error no such network
assemble({ format: 1, name: "rig", network: "other", modules: [] });
// @ts-expect-error the format is missing
assemble({ name: "rig", byteOrder: "big", modules: [] });
