// Random numbers from a seed (mulberry32), so that every run of the benchmark is the same.

export interface Random {
  /** From 0 up to, but without, 1. */
  readonly next: () => number;
  /** A whole number from `low` to `high`, both included. */
  readonly whole: (low: number, high: number) => number;
  readonly pick: <T>(list: readonly T[]) => T;
  readonly chance: (probability: number) => boolean;
  /** Normal with deviation 1, cut off at 3. */
  readonly normal: () => number;
  readonly shuffled: <T>(list: readonly T[]) => T[];
}

export function randomFrom(seed: number): Random {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  const whole = (low: number, high: number) => low + Math.floor(next() * (high - low + 1));
  const normal = (): number => {
    const z = Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
    return Math.abs(z) > 3 ? normal() : z;
  };
  const shuffled = <T>(list: readonly T[]) => {
    const out = [...list];
    for (let k = out.length - 1; k > 0; k--) {
      const j = whole(0, k);
      [out[k], out[j]] = [out[j] as T, out[k] as T];
    }
    return out;
  };
  return {
    next,
    whole,
    normal,
    shuffled,
    pick: (list) => list[whole(0, list.length - 1)]!,
    chance: (probability) => next() < probability,
  };
}
