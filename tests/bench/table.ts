/** Results as Markdown. */
import { markdownTable } from "../support/markdownTable.js";
import type { AssemblyTime, Memory } from "./assembly.js";
import type { Operation, Who } from "./operations.js";
import type { PeerReport } from "./peers/child.js";

/** One measured operation: times of one operation in nanoseconds, in the order of its contenders. */
export interface Row {
  readonly work: string;
  readonly operation: Operation;
  readonly times: readonly number[];
}

/** Times of this project and ratios to the code by hand. */
export function ownTable(rows: readonly Row[]): string {
  const cells = rows.map(({ work, operation, times }) => {
    const timeOf = (who: Who) => timeIn(operation, times, who);
    const limit = timeOf("hand")!;
    const ratio = (who: "runtime" | "generated") => {
      const time = timeOf(who);
      const aim = operation.aims[who];
      const aimed = aim === undefined ? "" : ` (aim ${aim})`;
      if (time === undefined) return ["–", aim === undefined ? "–" : `missing${aimed}`];
      return [nanoseconds(time), `${digits(time / limit)}${aimed}`];
    };
    return [operation.title, work, nanoseconds(limit), ...ratio("runtime"), ...ratio("generated")];
  });
  return markdownTable(["operation", "", "by hand", "runtime", "ratio", "generated", "ratio"], cells);
}

// Where there is more than one way by hand, the faster.
function timeIn({ contenders }: Operation, times: readonly number[], who: Who): number | undefined {
  const own = times.filter((_, k) => contenders[k]!.who === who);
  return own.length > 0 ? Math.min(...own) : undefined;
}

/** Libraries, each beside the code by hand in its own process, with the runtime's ratios from the table above. */
export function peerTable(reports: readonly PeerReport[], rows: readonly Row[]): string {
  const columns = ["A decode", "B decode", "A encode", "B encode"] as const;
  const cells = reports.map(({ package: name, version, kind, lacks, results }) => [
    `${name} ${version}`,
    kind,
    ...columns.map((column) => {
      const result = results.find(({ work, operation }) => `${work} ${operation}` === column);
      return result ? `${nanoseconds(result.peer)} · ${digits(result.peer / result.hand)}` : "–";
    }),
    lacks,
  ]);
  const titles: Readonly<Record<string, string>> = {
    decode: "decode to a flat object",
    encode: "encode with all checks",
  };
  const own = (["runtime", "generated"] as const).map((who) => [
    `this project, ${who}`,
    "without eval",
    ...columns.map((column) => {
      const [work, operation] = column.split(" ") as [string, string];
      const row = rows.find((one) => one.work === work && one.operation.title === titles[operation]);
      const [time, limit] = row ? [who, "hand" as const].map((one) => timeIn(row.operation, row.times, one)) : [];
      return time && limit ? `${nanoseconds(time)} · ${digits(time / limit)}` : "–";
    }),
    "nothing",
  ]);
  return markdownTable(["library", "kind", ...columns, "left to its user"], [...own, ...cells], [0, 1, 6]);
}

/** How assembly grows with the number of points. */
export function assemblyTable(times: readonly AssemblyTime[]): string {
  const cells = times.map(({ title, points, time }) => [
    title,
    String(points),
    nanoseconds(time),
    nanoseconds(time / points),
  ]);
  return markdownTable(
    ["assembly of a station", "points", "time (aim: B under 1 ms)", "per point (aim: even)"],
    cells,
    [0],
  );
}

/** Memory in one line. */
export function memoryLine(memory: Memory | null): string {
  if (!memory) return "Memory: not measured (needs `--expose-gc`).";
  const { layout, withCodec } = memory;
  return `Heap per assembled point of B: ${layout.toFixed(0)} bytes for the layout (aim: under 500), ${withCodec.toFixed(0)} bytes once it has decoded.`;
}

function digits(ratio: number): string {
  return ratio.toFixed(ratio < 0.1 ? 3 : ratio < 10 ? 2 : 1);
}

/** Three digits, in ns, µs or ms. */
export function nanoseconds(time: number): string {
  const [unit, size] =
    time < 1000 ? (["ns", 1] as const) : time < 1e6 ? (["µs", 1e3] as const) : (["ms", 1e6] as const);
  const number = time / size;
  return `${number.toFixed(number < 10 ? 2 : number < 100 ? 1 : 0)} ${unit}`;
}
