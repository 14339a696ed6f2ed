// Tokens of the subset of IEC 61131-3 Structured Text that generated files use. Strict: what only some compilers take is an error.

export type TokenKind = "name" | "keyword" | "integer" | "bits" | "real" | "symbol" | "end";

export interface Token {
  readonly kind: TokenKind;
  /** Keywords and types in upper case, names in lower case. */
  readonly text: string;
  /** The number of a literal. */
  readonly value?: bigint | number;
  /** The type before the # of a typed literal. */
  readonly type?: string;
  readonly line: number;
}

const keywords = new Set(
  (
    "TYPE END_TYPE STRUCT END_STRUCT FUNCTION END_FUNCTION FUNCTION_BLOCK END_FUNCTION_BLOCK VAR VAR_INPUT VAR_OUTPUT END_VAR " +
    "ARRAY OF IF THEN ELSIF ELSE END_IF FOR TO BY DO END_FOR WHILE END_WHILE AND OR XOR NOT MOD TRUE FALSE"
  ).split(" "),
);
const elementary = /^(BOOL|U?[SDL]?INT|L?REAL|BYTE|[DL]?WORD)$/;
// Names that the standard takes for itself, beside the keywords that are read above; a declaration of one is an error.
const taken = new Set(
  (
    "REPEAT UNTIL END_REPEAT CASE END_CASE EXIT RETURN CONTINUE PROGRAM END_PROGRAM VAR_IN_OUT VAR_TEMP VAR_EXTERNAL VAR_GLOBAL CONSTANT " +
    "RETAIN NON_RETAIN AT CONFIGURATION RESOURCE TASK ON WITH STEP END_STEP INITIAL_STEP TRANSITION END_TRANSITION FROM ACTION END_ACTION " +
    "CLASS METHOD INTERFACE NAMESPACE USING EXTENDS IMPLEMENTS THIS SUPER PUBLIC PRIVATE PROTECTED INTERNAL ABSTRACT FINAL OVERRIDE NULL " +
    "REF_TO R_EDGE F_EDGE EN ENO STRING WSTRING TIME DATE TIME_OF_DAY TOD DATE_AND_TIME DT LTIME ANY ANY_INT ANY_BIT ANY_NUM ANY_REAL " +
    "ABS SQRT LN LOG EXP SIN COS TAN ASIN ACOS ATAN ADD MUL SUB DIV EXPT MOVE SHL SHR ROL ROR SEL MAX MIN LIMIT MUX GT GE EQ LE LT NE " +
    "LEN LEFT RIGHT MID CONCAT INSERT DELETE REPLACE FIND TRUNC SR RS R_TRIG F_TRIG CTU CTD CTUD TP TON TOF"
  ).split(" "),
);

/** Whether the standard forbids a name: taken, two underscores in a row, one at the end, or too long for common compilers. */
export function nameProblem(name: string): string | null {
  const upper = name.toUpperCase();
  if (taken.has(upper) || keywords.has(upper) || elementary.test(upper)) return "is taken by the standard";
  if (/^[A-Z]+_TO_[A-Z]+$/.test(upper) && upper.split("_TO_").every((part) => elementary.test(part)))
    return "is a standard conversion";
  if (/__|_$/.test(name)) return "has underscores where none may be";
  return name.length > 32 ? "is longer than 32 characters" : null;
}

export function tokensOf(text: string): Token[] {
  const tokens: Token[] = [];
  let line = 1;
  let at = 0;
  const fail = (why: string): never => {
    throw new Error(`line ${line}: ${why}`);
  };
  while (at < text.length) {
    const rest = text.slice(at, at + 200);
    const space = /^\s+/.exec(rest)?.[0];
    if (space) {
      line += space.split("\n").length - 1;
      at += space.length;
      continue;
    }
    if (rest.startsWith("(*")) {
      const end = text.indexOf("*)", at + 2);
      if (end < 0) fail("a comment has no end");
      const inside = text.slice(at + 2, end);
      if (inside.includes("(*") || inside.includes("/*") || /[{}]/.test(inside))
        fail("a comment holds the start of another, or a pragma");
      line += inside.split("\n").length - 1;
      at = end + 2;
      continue;
    }
    const [match, kind, type, value] =
      literal(rest) ?? word(rest) ?? symbol(rest) ?? fail(`unexpected ${JSON.stringify(rest.slice(0, 20))}`);
    const shown = kind === "name" ? match.toLowerCase() : match.toUpperCase();
    tokens.push({
      kind,
      text: shown,
      line,
      ...(type !== undefined && { type }),
      ...(value !== undefined && { value }),
    });
    at += match.length;
  }
  return [...tokens, { kind: "end", text: "end of file", line }];
}

type Lexed = readonly [match: string, kind: TokenKind, type?: string | undefined, value?: bigint | number];

function literal(rest: string): Lexed | null {
  const [match, type, minus = "", body, based, fraction] =
    /^(?:([A-Z]+)#(-?))?((\d+)#[0-9A-Fa-f_]+|\d+(\.\d+(?:E[+-]?\d+)?)?)/.exec(rest) ?? [];
  if (match === undefined || body === undefined) return null;
  if (/^[A-Za-z_]/.test(rest.slice(match.length)))
    throw new Error(`a name may not begin with a digit: ${rest.slice(0, 20)}`);
  if (based !== undefined) return [match, "bits", type, parseBased(Number(based), body.slice(based.length + 1))];
  if (fraction !== undefined) return [match, "real", type, Number(minus + body)];
  return [match, "integer", type, minus ? -BigInt(body) : BigInt(body)];
}

function parseBased(base: number, digits: string): bigint {
  if (![2, 8, 16].includes(base)) throw new Error(`base ${base}`);
  return [...digits.replaceAll("_", "")].reduce((sum, digit) => {
    const n = Number.parseInt(digit, base);
    if (Number.isNaN(n)) throw new Error(`${digit} is no digit of base ${base}`);
    return sum * BigInt(base) + BigInt(n);
  }, 0n);
}

function word(rest: string): Lexed | null {
  const match = /^[A-Za-z_][A-Za-z0-9_]*/.exec(rest)?.[0];
  if (match === undefined) return null;
  const upper = match.toUpperCase();
  return [match, keywords.has(upper) || elementary.test(upper) ? "keyword" : "name"];
}

function symbol(rest: string): Lexed | null {
  const match = /^(:=|<=|>=|<>|\.\.|[-+*/()[\],.;:<>=])/.exec(rest)?.[0];
  return match === undefined ? null : [match, "symbol"];
}
