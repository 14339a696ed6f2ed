/**
 * Copies of objects. The engine copies an object of a known shape in one go, and remembers four shapes at each place of
 * the program where a spread stands; with a fifth it copies key by key, thirty times as slowly. Every layout has shapes
 * of its own, so there are several places, and they are dealt out in turn.
 */
type Values = Record<string, boolean | number | bigint>;

/** Copies an object. */
export type Copy = (values: Readonly<Values>) => Values;

const copies: readonly Copy[] = [
  (values) => ({ ...values }),
  (values) => ({ ...values }),
  (values) => ({ ...values }),
  (values) => ({ ...values }),
  (values) => ({ ...values }),
  (values) => ({ ...values }),
  (values) => ({ ...values }),
  (values) => ({ ...values }),
  (values) => ({ ...values }),
  (values) => ({ ...values }),
  (values) => ({ ...values }),
  (values) => ({ ...values }),
  (values) => ({ ...values }),
  (values) => ({ ...values }),
  (values) => ({ ...values }),
  (values) => ({ ...values }),
];
let dealt = 0;

/** The next place in turn. */
export function nextCopy(): Copy {
  return copies[dealt++ % copies.length]!;
}
