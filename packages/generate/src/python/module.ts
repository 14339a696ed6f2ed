/** The lines of the module: what its user needs first, the machinery and its tables below. */
import { type Direction, type ImageLayout, type PlacedPoint, unitOf } from "byterail";
import { text as machinery } from "text:python/machinery.py";
import type { NameTable } from "../names.js";
import { indent, oneLine } from "../snippet.js";
import type { Source } from "../target.js";
import { pointRow } from "./point.js";

/** The lines of the module for a station. */
export function moduleLines({ layout, header }: Source, names: Readonly<Record<Direction, NameTable>>): string[] {
  const images = [layout.inputs, layout.outputs] as const;
  return [
    // The first line settles the encoding, so that no comment below can.
    "# -*- coding: utf-8 -*-",
    ...header.map(comment),
    ...introduction,
    "",
    "from __future__ import annotations",
    "",
    "import math",
    "from dataclasses import dataclass",
    "from typing import Any, Callable, Dict, Iterable, List, Mapping, NamedTuple, Optional, Sequence, Tuple, Union",
    "",
    "Image = Union[bytes, bytearray, memoryview]",
    "Value = Union[bool, int, float]",
    "Raw = Union[bool, int, float, str]",
    "",
    ...images.map(({ direction, byteLength }) => `${direction.toUpperCase()}_LENGTH = ${byteLength}  # bytes`),
    ...images.flatMap((image) => ["", "", ...dataclassLines(image, names[image.direction])]),
    ...images.flatMap(({ direction }) => functionLines(direction)),
    "",
    "",
    ...machinery.trimEnd().split("\n"),
    ...images.flatMap((image) => ["", "", ...tableLines(image, names[image.direction])]),
  ];
}

const introduction = [
  '"""Process image of the station: bytes to values in engineering units and back.',
  "",
  "Bits are bool, integers without a scale int, everything else float. -0 of sign-magnitude is -0.0, which equals 0;",
  "a BCD pattern with a digit above 9 is nan, and its raw value a text such as 16#1A. The raw value of a real is its bit",
  "pattern.",
  "",
  "Caution: writing outputs moves machines. Check this map against the station as built. It is no safety function;",
  "local codes, site procedure and competent persons come first.",
  '"""',
];

const words = { inputs: "station → controller", outputs: "controller → station" } as const;

function dataclassLines({ direction, points }: ImageLayout, names: NameTable): string[] {
  const attributes = points.flatMap((point) => [...about(point), `${names.of(point.name)}: ${typeOf(point)}`]);
  return [
    "@dataclass",
    `class ${className(direction)}:`,
    ...indent([`"""Values, ${words[direction]}."""`, ...(attributes.length > 0 ? ["", ...attributes] : [])], "    "),
  ];
}

function className(direction: Direction): string {
  return direction === "inputs" ? "Inputs" : "Outputs";
}

function typeOf({ kind, code, description }: PlacedPoint): string {
  if (kind === "boolean") return "bool";
  if (kind === "real" || "scale" in description) return "float";
  return code === "bcd" || code === "signMagnitude" ? "Union[int, float]" : "int";
}

function about(point: PlacedPoint): string[] {
  const texts = [point.description.title, unitOf(point)]
    .map((text) => oneLine(text ?? ""))
    .filter((text) => text !== "");
  return texts.length === 0 ? [] : [`#: ${texts.join(", ")}`];
}

function comment(line: string): string {
  return `# ${line}`;
}

function functionLines(direction: Direction): string[] {
  const name = className(direction);
  const table = `_${direction.toUpperCase()}, ${direction.toUpperCase()}_LENGTH`;
  return [
    ...define(
      `decode_${direction}(image: Image) -> ${name}`,
      ["Decodes an image. Nothing is rejected or clamped by range."],
      `return ${name}(**_decode(${table}, image))`,
    ),
    ...define(
      `encode_${direction}(values: ${name}) -> bytes`,
      [
        "Encodes values into a new image; spare bits are 0.",
        "",
        "Raises ImageError with one problem for every value that is not accepted.",
      ],
      `return _encode(${table}, values)`,
    ),
    ...define(
      `patch_${direction}(image: bytearray, values: Mapping[str, Value]) -> None`,
      [
        "Changes the named points of an image, and no other bit.",
        "",
        "Raises ImageError; the image is then as it was.",
      ],
      `_patch(${table}, image, values)`,
    ),
    ...define(
      `decode_${direction}_raw(image: Image) -> Dict[str, Raw]`,
      ["Counts of every point, by name."],
      `return _decode_raw(${table}, image)`,
    ),
    ...define(
      `encode_${direction}_raw(raw: Mapping[str, Raw]) -> bytes`,
      ["Encodes counts into a new image; only the type of each point limits them."],
      `return _encode_raw(${table}, raw)`,
    ),
    ...define(
      `${direction}_health(image: Image) -> Dict[str, str]`,
      [
        "What the counts of every point say beside their value.",
        "",
        "ok, belowMeasuring, aboveMeasuring, failedLow, failedHigh, invalid or none.",
      ],
      `return _judge(${table}, image)`,
    ),
  ];
}

function define(signature: string, about: readonly string[], body: string): string[] {
  const [first, ...more] = about;
  const doc = more.length === 0 ? [`"""${first}"""`] : [`"""${first}`, ...more, '"""'];
  return ["", "", `def ${signature}:`, ...indent([...doc, body], "    ")];
}

function tableLines({ direction, points }: ImageLayout, names: NameTable): string[] {
  const rows = points.flatMap((point) => pointRow(point, names.of(point.name), direction));
  return [`_${direction.toUpperCase()}: Tuple[_Point, ...] = (`, ...indent(rows, "    "), ")"];
}
