// What every environment does: each part of the packages once, on one frame. The results go over as text.

import { compare, diagnose, forcing, sheet } from "@byterail/commissioning";
import { byteMapSvg, generate } from "@byterail/generate";
import { assemble, decode, encode, type Layout, patch, view } from "byterail";
import { columns, fromHex, toHex } from "byterail/frames";
import { byteMap, inspect } from "byterail/map";
import { parseStationText } from "byterail/schema";

const text = JSON.stringify({
  format: 1,
  name: "rig",
  byteOrder: "big",
  modules: [
    {
      name: "sensors",
      inputs: [
        { name: "supply", type: "uint16", scale: { counts: [4000, 20000], value: [0, 10], unit: "bar" } },
        { name: "doorClosed", type: "bit" },
      ],
    },
    {
      name: "valves",
      outputs: [
        { name: "rinse", type: "bit" },
        { name: "steam", type: "bit" },
      ],
    },
  ],
});

/** Everything once; the same in every environment. */
export function work(): Record<string, unknown> {
  const { inputs, outputs, ...rest } = assemble(parseStationText(text)) as Layout;
  const layout = { inputs, outputs, ...rest };
  const frame = fromHex("36 60 01");
  const forces = forcing(layout, { now: () => 0 });
  forces.force("steam", true);
  const forced = toHex(forces.apply(encode(outputs, { rinse: true, steam: false } as never)));
  forces.releaseAll();
  forces.close();
  const bytes = frame.slice();
  (view(inputs, bytes) as Record<string, unknown>).doorClosed = false;
  return {
    decoded: decode(inputs, frame),
    viewed: toHex(bytes),
    patched: toHex(patch(inputs, frame.slice(), { supply: 0 } as never)),
    column: Array.from(columns(inputs, fromHex("36 60 01 | 4E 20 00")).points.supply as Float64Array),
    healths: inspect(inputs, frame).map(({ health }) => health),
    rows: byteMap(inputs).points.length,
    forced,
    generated: generate(layout, ["typescript", "c", "svg"]).files.length,
    drawn: byteMapSvg(layout, "inputs").startsWith("<svg"),
    changes: [...new Set(compare(layout, layout).points.flatMap(({ changes }) => changes))],
    loops: sheet(layout).loops.length,
    verdict: diagnose(layout.station, [{ inputs: "36 60 01", known: { supply: { value: 6.2, within: 0.1 } } }]).verdict,
  };
}
