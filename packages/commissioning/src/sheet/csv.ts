/** The sheet as comma-separated values (RFC 4180, UTF-8): one record a check, numbers as numbers. The cautions stand first. */
import type { CheckedPoint } from "./checkedPoint.js";
import { runsText } from "./columns.js";
import type { Contact } from "./contact.js";
import { csvField } from "./escape.js";
import type { Loop, LoopRow } from "./loop.js";
import type { PlainNumber, Sheet } from "./sheet.js";

type Cell = string | number | null;
type Record = Partial<{ readonly [title in (typeof columns)[number]]: Cell }>;

const columns = [
  ...(["check", "direction", "point", "title", "module", "slot", "address", "byte", "bit", "run", "percent"] as const),
  ...([
    "counts",
    "true percent",
    "signal",
    "signal unit",
    "value",
    "unit",
    "bytes",
    "band",
    "accept low",
    "accept high",
  ] as const),
  ...(["accept signal low", "accept signal high", "actuate", "see", "network lost", "note"] as const),
  ...(["as found", "as left", "by", "date"] as const),
] as const;

/**
 * Prints a sheet as CSV. Every record has as many fields as the header; texts that begin with `=`, `+`, `-` or `@` get an
 * apostrophe before them, so that no spreadsheet runs them.
 */
export function sheetCsv(sheet: Sheet): string {
  const records: Record[] = [
    {
      check: "station",
      point: sheet.station.name,
      title: sheet.station.title,
      note: sheet.digest && `digest ${sheet.digest}`,
    },
    ...sheet.cautions.map((note) => ({ check: "caution", note })),
    { check: "band", note: `${sheet.method.formula} (${sheet.method.source})` },
    ...connectionRecords(sheet),
    ...sheet.loops.flatMap(loopRecords),
    ...sheet.contacts.map(contactRecord),
    ...sheet.numbers.map(numberRecord),
  ];
  const lines = [
    columns.map(csvField),
    ...records.map((record) => columns.map((title) => csvField(record[title] ?? null))),
  ];
  return lines.map((fields) => `${fields.join(",")}\r\n`).join("");
}

function connectionRecords({ connection }: Sheet): Record[] {
  return (["inputs", "outputs"] as const).flatMap((direction) => {
    const { bytes, elements16, elements32, limit } = connection[direction];
    const size = (note: string, value: number | null, unit: string): Record => ({
      check: "connection",
      direction,
      value,
      unit,
      note,
    });
    return [
      size("image in bytes", bytes, "bytes"),
      size("16-bit elements, rounded up", elements16, "elements"),
      size("32-bit elements, rounded up", elements32, "elements"),
      size(`largest image: ${limit.source}`, limit.bytes, "bytes"),
      ...connection.overhead.map(({ what, source, [direction]: add }) =>
        size(`overhead: ${what} (${source})`, add, "bytes"),
      ),
    ];
  });
}

function loopRecords(loop: Loop): Record[] {
  const { signalUnit, unit, onNetworkLoss, unknownErrors } = loop;
  const point = { check: "analog", ...pointCells(loop) };
  const unknown = unknownErrors.length > 0 ? `band without error of ${unknownErrors.join(" and ")}` : null;
  const record = ({
    run,
    percent,
    counts,
    truePercent,
    signal,
    value,
    bytes,
    band,
    accept,
    acceptSignal,
  }: LoopRow): Record => ({
    ...point,
    ...{
      run,
      percent,
      counts,
      "true percent": truePercent,
      signal,
      "signal unit": signal === null ? null : signalUnit,
      value,
      unit,
    },
    byte: bytes[0]!.byte,
    bytes: bytes.length === 1 ? bytes[0]!.hex : runsText(bytes),
    band: band.halfWidth,
    "accept low": accept[0],
    "accept high": accept[1],
    "accept signal low": acceptSignal?.[0] ?? null,
    "accept signal high": acceptSignal?.[1] ?? null,
    "network lost": onNetworkLoss,
    note: unknown,
  });
  return [
    ...loop.rows.map(record),
    ...loop.leftOut.map(({ percent, why }) => ({ ...point, percent, note: `left out: ${why}` })),
  ];
}

function contactRecord(contact: Contact): Record {
  const { byte, bit, mask, actuate, see, onNetworkLoss } = contact;
  const bytes = mask.map(({ hex }) => hex).join(" ");
  return {
    ...{ check: "digital", ...pointCells(contact), byte, bit, bytes, actuate, see },
    "network lost": onNetworkLoss,
  };
}

function numberRecord(number: PlainNumber): Record {
  const { byte, unit, onNetworkLoss } = number;
  return { check: "number", ...pointCells(number), byte, unit, "network lost": onNetworkLoss };
}

function pointCells({ direction, name, title, module, slot, address }: CheckedPoint) {
  return { direction, point: name, title, module, slot, address };
}
