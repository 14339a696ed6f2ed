/** What counts stand for, in a few characters: `4000..20000 = 4..20 mA → 0..10`. */
import { numberOf, type PlacedPoint } from "byterail";

const codes = { offsetBinary: "offset binary", signMagnitude: "sign and magnitude", bcd: "BCD" } as const;

/** Code and scale of a point; empty where its counts are its value. */
export function scaleText(point: PlacedPoint): string {
  const number = numberOf(point);
  if (!number) return "";
  const { scale, code } = number;
  const sign = "signed" in number && number.signed ? "signed" : "";
  const parts = [code ? codes[code] : sign];
  if (scale?.points) {
    const [first, last] = [scale.points[0]!, scale.points[scale.points.length - 1]!];
    parts.push(`${first[0]}..${last[0]} → ${first[1]}..${last[1]} (${scale.points.length} points)`);
  } else if (scale?.counts) {
    parts.push(scale.counts.join(".."));
    if (scale.signal) parts.push("=", `${scale.signal.join("..")} ${scale.signalUnit ?? ""}`.trim());
    if (scale.value) parts.push("→", scale.value.join(".."));
    if (scale.shape === "squareRoot") parts.push("(square root)");
  }
  return parts.filter((part) => part !== "").join(" ");
}
