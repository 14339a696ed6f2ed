/**
 * Names in C and C++: every function, type and macro begins with the name of the station; points stand at the end of a
 * name or are members of a structure. Members meet keywords and macros, so those are reserved.
 */
import type { Problem } from "byterail";
import { type NameTable, nameTable } from "../names.js";

/** Characters that count in a name (C99, 5.2.4.1: 63 in an internal identifier or a macro). */
const longest = 63;
/** The station's part of every name. */
const longestPrefix = 24;
/** What stands round a point at most: `_out_setvalue_`. */
const affixes = 14;

// C99 6.4.1, C11, C++20 keywords and alternative tokens; macros of the C99 headers and those that compilers define
// without being asked; the types of stdint.h, stddef.h and stdbool.h.
const reserved = new Set(
  (
    "auto break case char const continue default do double else enum extern float for goto if inline int long register restrict " +
    "return short signed sizeof static struct switch typedef union unsigned void volatile while " +
    "alignas alignof bool constexpr false nullptr static_assert thread_local true typeof typeof_unqual " +
    "and and_eq asm bitand bitor catch char8_t char16_t char32_t class co_await co_return co_yield compl concept consteval " +
    "constinit const_cast decltype delete dynamic_cast explicit export friend import module mutable namespace new noexcept not " +
    "not_eq operator or or_eq override final private protected public reinterpret_cast requires static_cast template this throw " +
    "try typeid typename using virtual wchar_t xor xor_eq " +
    "int8_t int16_t int32_t int64_t uint8_t uint16_t uint32_t uint64_t intptr_t uintptr_t intmax_t uintmax_t size_t ptrdiff_t " +
    "ssize_t float_t double_t " +
    "NULL EOF BUFSIZ FILENAME_MAX FOPEN_MAX L_tmpnam TMP_MAX SEEK_CUR SEEK_END SEEK_SET stderr stdin stdout errno EDOM EILSEQ " +
    "ERANGE EXIT_FAILURE EXIT_SUCCESS RAND_MAX MB_CUR_MAX NAN INFINITY HUGE_VAL HUGE_VALF HUGE_VALL MATH_ERRNO MATH_ERREXCEPT " +
    "math_errhandling CLOCKS_PER_SEC WCHAR_MAX WCHAR_MIN WINT_MAX WINT_MIN SIZE_MAX PTRDIFF_MAX PTRDIFF_MIN SIG_ATOMIC_MAX " +
    "SIG_ATOMIC_MIN SIG_DFL SIG_ERR SIG_IGN CHAR_BIT CHAR_MAX CHAR_MIN SCHAR_MAX SCHAR_MIN UCHAR_MAX SHRT_MAX SHRT_MIN " +
    "USHRT_MAX INT_MAX INT_MIN UINT_MAX LONG_MAX LONG_MIN ULONG_MAX LLONG_MAX LLONG_MIN ULLONG_MAX I complex imaginary assert " +
    "offsetof setjmp va_arg va_copy va_end va_start isfinite isinf isnan isnormal signbit fpclassify isgreater isless " +
    "unix linux i386 vax sun mips sparc hpux arm interrupt near far huge min max TRUE FALSE BOOL BYTE WORD DWORD"
  ).split(" "),
);

// C99 7.26 and 7.1.3: names that the library may use for macros, now or later.
const reservedForms = [
  /^E[0-9A-Z]/,
  /^SIG_?[A-Z]/,
  /^LC_[A-Z]/,
  /^FE_[A-Z]/,
  /^(PRI|SCN)[a-zX]/,
  /^U?INT[A-Za-z0-9_]*_(MAX|MIN|C)$/,
  /^(FLT|DBL|LDBL|DECIMAL)_/,
  /^FP_/,
];

// Headers of the C and C++ libraries that a file beside them would hide, and names that Windows keeps for devices.
const files = new Set(
  (
    "assert complex ctype errno fenv float inttypes iso646 limits locale math setjmp signal stdalign stdarg stdatomic stdbit stdbool " +
    "stdckdint stddef stdint stdio stdlib stdnoreturn string strings tgmath threads time uchar wchar wctype unistd malloc memory " +
    "sched semaphore spawn pthread fcntl poll glob grp pwd regex search syslog tar termios utime dirent endian byteswap " +
    "con prn aux nul com1 com2 com3 com4 com5 com6 com7 com8 com9 lpt1 lpt2 lpt3 lpt4 lpt5 lpt6 lpt7 lpt8 lpt9"
  ).split(" "),
);

/** Names of the points of one direction. */
export function memberNames(names: readonly string[], where: string, prefix: string): NameTable {
  const taken = new Set([...reserved, ...names.filter((name) => reservedForms.some((form) => form.test(name)))]);
  return cleaned(names, where, taken, "sensitive", longest - affixes - prefix.length, "_point");
}

/** The name of the station, as its files and everything in them begin. */
export function stationPrefix(station: string): NameTable {
  return cleaned([station], "station", files, "insensitive", longestPrefix, "_station");
}

function cleaned(
  names: readonly string[],
  where: string,
  taken: ReadonlySet<string>,
  caseRule: "sensitive" | "insensitive",
  maxLength: number,
  suffix: string,
): NameTable {
  // Two underscores in a row are reserved in C++ (lex.name), and no name may end in one where another follows.
  const style = (name: string) => (name.includes("__") || where === "station" ? plain(name) : name).slice(0, maxLength);
  const table = nameTable(names, where, { target: "C", reserved: taken, case: caseRule, maxLength, suffix, style });
  const notes = names.flatMap((name): Problem[] => {
    const clean = table.of(name);
    return clean === name
      ? []
      : [{ code: "name.changed", path: `${where} › ${name}`, message: `is called ${clean} in C` }];
  });
  return { of: table.of, notes };
}

function plain(name: string): string {
  return name.replace(/_+/g, "_").replace(/_$/, "");
}
