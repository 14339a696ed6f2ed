// The main job, end to end: a station becomes byte maps, payload bytes become values, values become payload bytes.
import { assemble, decode, encode, patch } from "byterail";
import { inspect } from "byterail/map";
import { diff, fromHex, hexdump, toHex } from "byterail/frames";
import { byteMap } from "byterail/map";
import { kegWasher } from "./kegWasher.station.js";

const row = (...cells: unknown[]) =>
  console.log(`  ${cells.map((cell) => String(cell ?? "").padEnd(16)).join("")}`.trimEnd());
const { inputs, outputs } = assemble(kegWasher);

console.log(`${kegWasher.title}, as assembled`);
for (const [slot, { name }] of kegWasher.modules.entries()) row(`slot ${slot}`, name);

for (const image of [inputs, outputs]) {
  const { byteLength, points, gaps } = byteMap(image);
  console.log(`\nThe ${image.direction}, ${byteLength} bytes`);
  row("byte.bit", "address", "name", "type", "module");
  for (const { byte, bit, shift, address, name, type, module } of points)
    row(bit !== null ? `${byte}.${bit}` : shift !== null ? `${byte} from ${shift}` : byte, address, name, type, module);
  for (const { byte, bytes, why } of gaps) row(byte, "", `(${bytes} unused: ${why})`);
}

console.log("\nAn input payload, decoded");
const payload = fromHex("00 17 | 63 60 | 60 36 B8 0B C1 02 | AB C4");
row("name", "signal", "value", "unit", "health");
for (const { name, signal, signalUnit, value, unit, health } of inspect(inputs, payload))
  if (unit)
    row(name, signal === null ? "" : `${signal} ${signalUnit}`, Number(Number(value).toPrecision(6)), unit, health);
const { doorClosed, supplyPressure } = decode(inputs, payload);
console.log(`\nBy name: doorClosed is ${doorClosed}, supplyPressure is ${supplyPressure} bar. Byte by byte:\n`);
console.log(hexdump(inputs, payload));

// On a real station an output moves a machine: see the cautions in the README.
const resting = { clampRelease: false, caustic: false, acid: false, steam: false, sterileAir: false, drain: false };
const rinsing = encode(outputs, { ...resting, clampClose: true, rinse: true, steamValve: 0, pumpSpeed: 1500 });
console.log(`\nAn output payload, encoded:  ${toHex(rinsing)}`);
const washing = patch(outputs, rinsing.slice(), { rinse: false, caustic: true, pumpSpeed: 2400 });
console.log(`Three points patched in:     ${toHex(washing)}`);
for (const { name, before, after } of diff(outputs, rinsing, washing)) row(name, before, "→", after);
