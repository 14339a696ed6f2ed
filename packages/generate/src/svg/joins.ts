/** How the parts of one point are shown to be one: grown together where they touch, else joined by a line. */
import { type Box, bridge, seam, type Sheet } from "./sheet.js";

/** What joins some boxes. */
export interface Joins {
  /** What lies between boxes that touch. */
  readonly bridges: readonly Box[];
  /** For each box, the number of the group that grew together with it. */
  readonly groups: readonly number[];
  /** Boxes to be joined by a line, so that all hang together. */
  readonly lines: readonly (readonly [from: number, to: number])[];
}

/** Finds what joins the boxes of one point, given in image order. */
export function joinsOf(boxes: readonly Box[]): Joins {
  let groups = boxes.map((_, k) => k);
  const merge = (a: number, b: number) => {
    const [kept, gone] = [groups[a]!, groups[b]!];
    groups = groups.map((group) => (group === gone ? kept : group));
  };
  const bridges = boxes.flatMap((box, k) =>
    boxes.slice(0, k).flatMap((other, i) => {
      const between = bridge(other, box);
      if (between) merge(i, k);
      return between ? [{ ...between, level: box.y === other.y }] : [];
    }),
  );
  // Where two rows of a word grow together, so do the strips between their bytes.
  const strips = bridges.filter(({ level }) => level);
  const crossings = strips.flatMap((strip, k) => strips.slice(0, k).flatMap((other) => bridge(other, strip) ?? []));
  const grown = groups;
  const lines = boxes.slice(1).flatMap((_, k): [number, number][] => {
    if (groups[k] === groups[k + 1]) return [];
    merge(k, k + 1);
    return [[k, k + 1]];
  });
  return { bridges: [...bridges, ...crossings], groups: grown, lines };
}

/**
 * A line from part to part through the seams, and past rows between them left of the cells.
 *
 * @param lane sets lines apart that would else run over one another
 */
export function connector(from: Box, to: Box, { left }: Sheet, lane: number): string {
  const [a, b] = [from.x + from.w / 2 + 8 * (lane % 3), to.x + to.w / 2 - 8 * (lane % 3)];
  const [out, into] = [from.y + from.h, to.y];
  const within = 2 + 3 * (lane % 3);
  const start = `M${a} ${out - 4}V${out + within}`;
  const end = from.y === to.y ? out - 4 : into + 4;
  const past = into - out > seam ? `H${left - 4 - 3 * (lane % 3)}V${into - seam + within}` : "";
  return [
    `<path class="bm-joint" d="${start}${past}H${b}V${end}"/>`,
    `<circle class="bm-knot" cx="${a}" cy="${out - 4}" r="3"/>`,
    `<circle class="bm-knot" cx="${b}" cy="${end}" r="3"/>`,
  ].join("");
}
