// Descriptions that are legal and mean harm: names that languages have taken, texts that end comments and strings.

import { assemble, type Entry, type Layout, type Station } from "byterail";

/** Legal names that are something else somewhere. Each but for its case once. */
const names = (
  "class Volatile int double float short signed register restrict inline auto union template typename namespace this new delete " +
  "operator and or not xor bitand compl co_await concept requires export mutable friend virtual final override module import " +
  "bool true None nonlocal lambda yield async await match case type def del elif except global pass raise is in assert with as " +
  "self cls str list dict print input open id max min sum len math dataclass field Inputs Outputs Problem decode_inputs " +
  "uint8_t size_t int64_t NULL EOF errno stdin stderr I complex NAN INFINITY HUGE_VAL EDOM ERANGE SIGINT LC_ALL INT8_MAX " +
  "UINT64_MAX FLT_MAX PRId64 E2BIG unix linux i386 offsetof signbit isnan va_arg memset memcpy sqrt floor main printf image " +
  "values length bits counts value each all first status health raw fixed setraw wide exact n x a__b trailing__ a_b class_ int_ " +
  "double_ image_ _self"
)
  .split(" ")
  .filter((name) => /^[A-Za-z]/.test(name));

const longName = (start: string) => start.padEnd(64, "LongName");

const texts = [
  "*/ int injected(void) { return 1; } /*",
  "/* open",
  "//",
  "*",
  "**/",
  "ends in a backslash \\",
  "*\\",
  "??/",
  "*??/",
  "trigraph ??/ and ??) ??' ????/",
  '"""',
  "'''",
  '\\"""',
  "# -*- coding: utf-7 -*-",
  "coding: no-such-coding",
  "type: ignore",
  "type: (int) -> nonsense",
  "+ACI-; raise SystemExit",
  "line one\nimport os; os.abort()",
  "carriage\rreturn\u2028line\u2029paragraph\u0085next\u000bvertical\u000cform",
  "right to left \u202e override \u2066 isolate",
  // biome-ignore lint/suspicious/noTemplateCurlyInString: that is what is hostile about it
  "%s %n {0} ${x} `whoami` $(whoami)",
  "</script><!-- -->",
  "nearest_even( sqrt( memcpy( NAN FLT_MAX",
  "lone \ud800 surrogate",
  "\u0000 nul",
  "°C · µS/cm · m³ · 😀",
  "#define true false",
  "#include <missing.h>",
  '_Pragma("GCC error \\"no\\"")',
];

/** Layouts of such descriptions. */
export function hostileLayouts(): Layout[] {
  const stationNames = ["class", "string", "Math", "stdio", "main", "int", "NULL", "con", "a__b_", longName("station")];
  return stationNames.map((name, k) => assemble(hostileStation(name, k)) as Layout);
}

function hostileStation(name: string, k: number): Station {
  const text = (n: number) => texts[(n + k) % texts.length]!;
  // One of each kind of point, in turn.
  const point = (own: string, n: number): Entry => {
    const about = { name: own, title: text(n), unit: text(n + 1) };
    switch (n % 6) {
      case 0:
        return { name: own, title: text(n), type: "bit" };
      case 1:
        return { ...about, type: "uint16", limits: [0, 100], specialCounts: [{ counts: 7, health: "failedHigh" }] };
      case 2:
        return {
          name: own,
          title: text(n),
          type: "int16",
          scale: { counts: [0, 1000], value: [0, 33], unit: text(n + 2) },
        };
      case 3:
        return { ...about, type: "float32" };
      case 4:
        return { ...about, type: "uint32", code: "bcd" };
      default:
        return {
          name: own,
          title: text(n),
          type: "int8",
          scale: { counts: [0, 100], value: [0, 2], shape: "squareRoot", unit: text(n) },
        };
    }
  };
  const distinct = new Map(
    [...names, longName("p"), `${longName("p").slice(0, 63)}X`].map((own) => [own.toLowerCase(), own]),
  );
  // Two stations with all names are enough, so that each point has two kinds.
  const all = [...distinct.values()].slice(0, k < 2 ? undefined : 6);
  const entries = all.map((own, n) => point(own, n + 3 * k));
  return {
    format: 1,
    name,
    title: text(0),
    byteOrder: "little",
    modules: [{ name: "hostile", title: text(1), inputs: entries, outputs: entries }],
  };
}
