/** Numbers as a sheet prints them: as many decimals as one step needs, so that a column reads evenly. */

/** Decimals that tell one step from the next: 0 to 9. */
export function decimalsFor(step: number): number {
  return step > 0 && step < 1 ? Math.min(9, Math.ceil(-Math.log10(step) - 1e-9)) : 0;
}

/** A number with so many decimals; never "-0". */
export function fixed(x: number, decimals: number): string {
  const text = x.toFixed(decimals);
  return /^-[0.]+$/.test(text) ? text.slice(1) : text;
}

/** The lower end of a band, rounded into the band. */
export function lowEnd(x: number, decimals: number): string {
  const text = fixed(x, decimals);
  return Number(text) < x ? fixed(Number(text) + 10 ** -decimals, decimals) : text;
}

/** The upper end of a band, rounded into the band. */
export function highEnd(x: number, decimals: number): string {
  const text = fixed(x, decimals);
  return Number(text) > x ? fixed(Number(text) - 10 ** -decimals, decimals) : text;
}

/** A number in as few digits as tell it, at most six. */
export function short(x: number): string {
  return String(Number(x.toPrecision(6)));
}
