/**
 * Measuring side by side: contenders for one operation run in turn, round after round, in one process, so that a busy
 * machine is busy for all of them. What counts is the median over the rounds.
 */
import { compileFunction } from "node:vm";

/** Somebody who can do an operation. `run` does it so many times and returns a number made of the results. */
export interface Contender {
  readonly who: string;
  readonly run: (times: number) => number;
}

/** How long to measure: many short turns. */
export interface Pace {
  readonly rounds: number;
  /** Of one contender in one round. */
  readonly milliseconds: number;
  /** Of each contender before it counts: so many repetitions, or so many milliseconds where these are long. */
  readonly warmUp: { readonly times: number; readonly milliseconds: number };
}

/** Median time of one operation, in nanoseconds, for each contender. */
export function measure(contenders: readonly Contender[], { rounds, milliseconds, warmUp }: Pace): number[] {
  for (const { run } of contenders)
    for (let done = 0, spent = 0; done < warmUp.times && spent < warmUp.milliseconds; ) {
      const count = Math.min(100, 1 + done);
      spent += timed(run, count);
      done += count;
    }
  const counts = contenders.map(({ run }) => {
    for (let count = 1; ; count *= 2) {
      const spent = timed(run, count);
      if (spent >= milliseconds) return Math.max(1, Math.round((count * milliseconds) / spent));
    }
  });
  const samples = contenders.map((): number[] => []);
  for (let round = 0; round < rounds; round++)
    for (let turn = 0; turn < contenders.length; turn++) {
      const k = (turn + round) % contenders.length;
      samples[k]!.push((timed(contenders[k]!.run, counts[k]!) / counts[k]!) * 1e6);
    }
  return samples.map(median);
}

/** The middle value, or the mean of the two in the middle. */
export function median(numbers: readonly number[]): number {
  const sorted = [...numbers].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}

let loops = 0;

/**
 * A loop around one statement that repeats it with `i` counting up, adding to `sum` what it makes. Each loop is compiled
 * on its own: were they shared, the first contender would run alone in optimised code and the others would not.
 */
export function loop(statement: string, scope: Readonly<Record<string, unknown>>): (times: number) => number {
  const text = `return function loop${++loops}(times) {
    let sum = 0;
    for (let i = 0; i < times; i++) { ${statement} }
    return sum;
  };`;
  return compileFunction(text, Object.keys(scope))(...Object.values(scope));
}

/** Where results go: the last eight stay alive, so that none is optimised away. */
export const kept: unknown[] = new Array(8).fill(null);

/** Sum of all that was consumed; printed, so that it is needed. */
export let consumed = 0;

// In milliseconds of processor time, not of the clock: what else a busy machine does meanwhile is not counted. V8 runs in
// one thread (see run.mjs), so on an idle machine the two agree.
function timed(run: (times: number) => number, count: number): number {
  const start = process.cpuUsage();
  const sum = run(count);
  const { user, system } = process.cpuUsage(start);
  consumed += Number.isFinite(sum) ? sum : 1;
  return (user + system) / 1000;
}
