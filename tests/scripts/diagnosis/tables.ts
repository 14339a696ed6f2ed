// What was counted, and the tables made of it.

/** What was counted of the cases of one kind with so many observations. */
export interface Row {
  readonly name: string;
  readonly observations: number;
  /** Cases that were looked at. */
  drawn: number;
  /** The true cause is first, alone. */
  first: number;
  /** The true cause is first, with others that explain as much. */
  tied: number;
  /** The true cause is one of the first three that are listed. */
  three: number;
  /** How many answers share the first rank, of each case. */
  readonly ties: number[];
  /** What was drawn and is no case: nothing wrong to be seen, or one fault of two. */
  silent: number;
  hidden: number;
}

/** Time that one diagnosis took. */
export interface Timing {
  readonly title: string;
  readonly points: number;
  readonly milliseconds: number;
  readonly verdict: string;
}

/** Counts a case: the place of the true cause in the list (-1 where it is not in it), its rank, and how many are first. Tells whether it is first or tied first. */
export function tallied(row: Row, place: number, rank: number | null, leading: number): boolean {
  row.drawn++;
  row.ties.push(leading);
  if (place >= 0 && place < 3) row.three++;
  if (rank !== 1) return false;
  if (leading === 1) row.first++;
  else row.tied++;
  return true;
}

/** How often the true cause was found. */
export function findingsTable(singles: readonly Row[], pairs: readonly Row[]): string {
  const all = [1, 2, 3].flatMap((observations) => {
    const these = singles.filter((row) => row.observations === observations);
    return these.length > 0
      ? [these.reduce(sum, { ...these[0]!, ...nothing, ties: [], name: "all single faults" })]
      : [];
  });
  const aims: Readonly<Record<string, string>> = { "all single faults": "98 %", "pairs of faults": "85 %" };
  const cells = [...singles, ...all, ...pairs].map((row) => {
    const { name, observations, drawn, first, tied, three, ties, silent, hidden } = row;
    const aim = observations === 3 && aims[name] ? ` (aim ${aims[name]})` : "";
    const sorted = [...ties].sort((a, b) => a - b);
    const share = ties.length > 0 ? `${sorted[ties.length >> 1]}, ${sorted[ties.length - 1]}` : "–";
    const leftOut = [...(silent ? [`${silent} silent`] : []), ...(hidden ? [`${hidden} hidden`] : [])].join(", ");
    return [
      name,
      observations,
      drawn,
      percent(first, drawn),
      percent(tied, drawn),
      `${percent(first + tied, drawn)}${aim}`,
      percent(three, drawn),
      share,
      leftOut || "none",
    ];
  });
  const heads = ["fault", "observations", "cases", "first", "tied first", "first or tied", "in the first three"];
  return table([...heads, "answers on rank 1: median, most", "drawn and left out"], cells);
}

/** The pairs again, with those of which one fault hides the other counted as missed. */
export function hiddenLine(pairs: readonly Row[]): string {
  const parts = pairs.map(
    ({ observations, drawn, first, tied, hidden }) =>
      `${percent(first + tied, drawn + hidden)} with ${observations} ${observations === 1 ? "observation" : "observations"}`,
  );
  return `Pairs found first or tied first, hidden pairs counted as missed: ${parts.join(", ")}.`;
}

/** How long a large station takes. */
export function timesTable(timings: readonly Timing[]): string {
  return table(
    ["fault in a large station, 3 observations", "points", "processor time (aim: under 1 s)", "verdict"],
    timings.map(({ title, points, milliseconds, verdict }) => [
      title,
      points,
      `${Math.round(milliseconds)} ms`,
      verdict,
    ]),
  );
}

const nothing = { drawn: 0, first: 0, tied: 0, three: 0, silent: 0, hidden: 0 };

function sum(a: Row, b: Row): Row {
  const added = Object.fromEntries(
    (Object.keys(nothing) as (keyof typeof nothing)[]).map((key) => [key, a[key] + b[key]]),
  ) as typeof nothing;
  return { ...a, ...added, ties: [...a.ties, ...b.ties] };
}

function percent(part: number, whole: number): string {
  return whole === 0 ? "–" : `${((100 * part) / whole).toFixed(1)} %`;
}

function table(heads: readonly string[], rows: readonly (readonly (string | number)[])[]): string {
  const all = [heads, ...rows.map((row) => row.map(String))];
  const widths = heads.map((_, k) => Math.max(...all.map((row) => row[k]!.length)));
  const line = (row: readonly string[]) =>
    `| ${row.map((cell, k) => (k === 0 ? cell.padEnd(widths[k]!) : cell.padStart(widths[k]!))).join(" | ")} |`;
  const rule = `|${widths.map((width, k) => (k === 0 ? "-".repeat(width + 2) : `${"-".repeat(width + 1)}:`)).join("|")}|`;
  return [line(all[0]!), rule, ...all.slice(1).map(line)].join("\n");
}
