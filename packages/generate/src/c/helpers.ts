/** Functions that the points share. A source carries those that it calls and no other: an unused one would be a warning. */

const helpers: Readonly<Record<string, readonly string[]>> = {
  counts_of_bcd: [
    "/* Counts of binary-coded decimals; all ones where a digit is above 9. */",
    "static uint64_t counts_of_bcd(uint64_t bits)",
    "{",
    "    uint64_t counts = 0;",
    "    int shift;",
    "",
    "    for (shift = 60; shift >= 0; shift -= 4) {",
    "        const uint64_t digit = (bits >> shift) & 0xFU;",
    "        if (digit > 9U) {",
    "            return UINT64_MAX;",
    "        }",
    "        counts = 10U * counts + digit;",
    "    }",
    "    return counts;",
    "}",
  ],
  bcd_of_counts: [
    "static uint64_t bcd_of_counts(uint64_t counts)",
    "{",
    "    uint64_t bits = 0;",
    "    int shift;",
    "",
    "    for (shift = 0; shift < 64; shift += 4) {",
    "        bits |= (counts % 10U) << shift;",
    "        counts /= 10U;",
    "    }",
    "    return bits;",
    "}",
  ],
  float_of_bits: [
    "/* IEEE 754 binary32 and binary64 by their patterns. */",
    "static float float_of_bits(uint32_t bits)",
    "{",
    "    float value;",
    "",
    "    memcpy(&value, &bits, sizeof value);",
    "    return value;",
    "}",
  ],
  double_of_bits: [
    "static double double_of_bits(uint64_t bits)",
    "{",
    "    double value;",
    "",
    "    memcpy(&value, &bits, sizeof value);",
    "    return value;",
    "}",
  ],
  bits_of_float: [
    "static uint32_t bits_of_float(double value)",
    "{",
    "    const float nearest = value > FLT_MAX ? FLT_MAX : value < -FLT_MAX ? -FLT_MAX : (float)value;",
    "    uint32_t bits;",
    "",
    "    memcpy(&bits, &nearest, sizeof bits);",
    "    return bits;",
    "}",
  ],
  bits_of_double: [
    "static uint64_t bits_of_double(double value)",
    "{",
    "    uint64_t bits;",
    "",
    "    memcpy(&bits, &value, sizeof bits);",
    "    return bits;",
    "}",
  ],
  is_finite: ["static bool is_finite(double value)", "{", "    return value >= -DBL_MAX && value <= DBL_MAX;", "}"],
  fits_float: [
    "/* Below the half way between the largest float and the next power of two, from where rounding overflows. */",
    "static bool fits_float(double value)",
    "{",
    "    return value > -3.4028235677973366e38 && value < 3.4028235677973366e38;",
    "}",
  ],
  nearest_even: [
    "/* The nearest whole number, ties to even; the caller has bounded the value. */",
    "static int64_t nearest_even(double value)",
    "{",
    "    int64_t whole = (int64_t)value;",
    "    double above;",
    "",
    "    if ((double)whole > value) {",
    "        whole--;",
    "    }",
    "    above = value - (double)whole;",
    "    if (above > 0.5 || (above == 0.5 && whole % 2 != 0)) {",
    "        whole++;",
    "    }",
    "    return whole;",
    "}",
  ],
  divided_even: [
    "/* The nearest whole quotient, ties to even; the divisor is above 0. */",
    "static int64_t divided_even(int64_t dividend, int64_t divisor)",
    "{",
    "    const int64_t rest = dividend % divisor;",
    "    const int64_t size = rest < 0 ? -rest : rest;",
    "    int64_t quotient = dividend / divisor;",
    "",
    "    if (size > divisor - size || (size == divisor - size && quotient % 2 != 0)) {",
    "        quotient += dividend < 0 ? -1 : 1;",
    "    }",
    "    return quotient;",
    "}",
  ],
  rooted: [
    "/* Square root, mirrored below zero. */",
    "static double rooted(double x)",
    "{",
    "    return x < 0.0 ? -sqrt(-x) : sqrt(x);",
    "}",
  ],
  squared: ["static double squared(double x)", "{", "    return x < 0.0 ? -(x * x) : x == 0.0 ? x : x * x;", "}"],
};

/** The helpers that some lines call, each followed by an empty line. */
export function helpersFor(lines: readonly string[]): string[] {
  const text = codeOf(lines);
  return Object.entries(helpers).flatMap(([name, body]) =>
    new RegExp(`\\b${name}\\(`).test(text) ? [...body, ""] : [],
  );
}

/** The headers that some lines need. */
export function includesFor(lines: readonly string[]): string[] {
  const text = codeOf(lines);
  const needs: [string, RegExp][] = [
    ["float.h", /\b(FLT|DBL)_MAX\b/],
    ["math.h", /\bsqrt\(|\bNAN\b/],
    ["string.h", /\bmem(cpy|set)\(/],
  ];
  return needs.flatMap(([header, used]) => (used.test(text) ? [`#include <${header}>`] : []));
}

// Titles stand in comments, and what they say is no call.
function codeOf(lines: readonly string[]): string {
  return lines.join("\n").replace(/\/\*[\s\S]*?\*\//g, "");
}
