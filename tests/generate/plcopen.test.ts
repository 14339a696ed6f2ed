// The PLCopen XML, read back by a strict parser. Names and order of elements are those of the TC6 XML schema 2.01, from
// memory: the schema itself was not at hand.

import { generate } from "@byterail/generate";
import { assemble, type Layout, type Station } from "byterail";
import { pointAddress } from "byterail/map";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { awkwardStations, awkwardTexts, decorated } from "./support/awkward.js";
import { kegWasher, kegWasherLayout } from "./support/kegWasher.js";
import { everyElement, readXml, within, type XmlElement } from "./support/xml.js";

const made = (layout: Layout, options = {}) => generate(layout, ["plcopen"], options);
const rootOf = (layout: Layout, options = {}) => readXml(made(layout, options).files[0]!.text).root;
const globalsOf = (root: XmlElement) =>
  within(root, "instances", "configurations", "configuration").children.flatMap(({ children }) => children);
const typeOf = (variable: XmlElement) => within(variable, "type").children[0]!.name;
const name = ({ attributes }: XmlElement) => attributes.name!;
const documentationOf = (variable: XmlElement) => everyElement(variable).find((element) => element.name === "p")?.text;

const tc6 = "http://www.plcopen.org/xml/tc6_0201";
const xhtml = "http://www.w3.org/1999/xhtml";

// What may stand in each element, in this order (a sequence of the schema, as far as this file uses it).
const sequences: Readonly<Record<string, readonly string[]>> = {
  project: ["fileHeader", "contentHeader", "types", "instances", "addData", "documentation"],
  contentHeader: ["Comment", "coordinateInfo", "addData", "documentation"],
  coordinateInfo: ["pageSize", "fbd", "ld", "sfc"],
  types: ["dataTypes", "pous"],
  dataType: ["baseType", "initialValue", "addData", "documentation"],
  struct: ["variable"],
  variable: ["type", "initialValue", "addData", "documentation"],
  array: ["dimension", "baseType"],
  instances: ["configurations"],
  configuration: ["resource", "globalVars", "accessVars", "configVars", "addData", "documentation"],
  globalVars: ["variable", "addData", "documentation"],
};
const required: Readonly<Record<string, readonly string[]>> = {
  fileHeader: ["companyName", "productName", "productVersion", "creationDateTime"],
  contentHeader: ["name"],
  scaling: ["x", "y"],
  dataType: ["name"],
  variable: ["name"],
  dimension: ["lower", "upper"],
  derived: ["name"],
  configuration: ["name"],
};
const elementary = "BOOL BYTE WORD DWORD LWORD SINT INT DINT LINT USINT UINT UDINT ULINT REAL LREAL".split(" ");

/** What the schema would refuse, in words. */
function faults(root: XmlElement): string[] {
  return everyElement(root).flatMap((element) => {
    const { name: own, namespace, children, attributes } = element;
    if (namespace !== tc6) return own === "p" && namespace === xhtml ? [] : [`${own} of ${namespace}`];
    const order = sequences[own];
    const places = children.map((child) => order?.indexOf(child.name) ?? 0);
    return [
      ...(order && places.includes(-1) ? [`${own} holds ${children.map((child) => child.name).join(" ")}`] : []),
      ...(places.some((place, k) => k > 0 && place < places[k - 1]!) ? [`${own} is out of order`] : []),
      ...(required[own] ?? []).filter((key) => !(key in attributes)).map((key) => `${own} lacks ${key}`),
      ...(own === "type" || own === "baseType" ? typeFaults(element) : []),
    ];
  });
}

function typeFaults({ name: own, children }: XmlElement): string[] {
  const known = [...elementary, "array", "derived", ...(own === "baseType" ? ["struct"] : [])];
  return children.length === 1 && known.includes(children[0]!.name)
    ? []
    : [`${own} holds ${children.map((child) => child.name).join(" ")}`];
}

/** Identifiers of IEC 61131-3, clause 6.1.2: no underline at the end, none beside another. */
const identifier = /^[A-Za-z](_?[A-Za-z0-9])*$/;

describe("the keg washer", () => {
  const root = rootOf(kegWasherLayout);
  const globals = new Map(globalsOf(root).map((variable) => [name(variable), variable]));

  test("is what the schema asks for", () => {
    expect([root.name, root.namespace]).toEqual(["project", tc6]);
    expect(faults(root)).toEqual([]);
  });

  test.each([
    ["kegWasher_In_clampShut", "%IX0.1", "BOOL"],
    ["kegWasher_In_causticTemp", "%IW1", "INT"],
    ["kegWasher_In_supply", "%IW3", "UINT"],
    ["kegWasher_In_flow", "%ID11", "REAL"],
    ["kegWasher_In_total", "%IL15", "ULINT"],
    ["kegWasher_In_tankFault", "%IX23.0", "BOOL"],
    ["kegWasher_Out_speed", "%QW3", "INT"],
    ["kegWasher_Out_setLevel", "%QW8", "WORD"],
  ])("%s stands at %s and is %s", (variable, address, type) => {
    expect([globals.get(variable)?.attributes.address, typeOf(globals.get(variable)!)]).toEqual([address, type]);
  });

  test("the image is an array of bytes at its address", () => {
    const bytes = globals.get("kegWasher_Inputs_Bytes")!;
    expect(bytes.attributes.address).toBe("%IB0");
    expect(within(bytes, "type", "array", "dimension").attributes).toEqual({ lower: "0", upper: "25" });
    expect(within(bytes, "type", "array", "baseType").children[0]!.name).toBe("BYTE");
  });

  test("the data type holds values: a real where there is a scale, the narrowest integer elsewhere", () => {
    const [inputs, outputs] = within(root, "types", "dataTypes").children;
    expect([name(inputs!), name(outputs!)]).toEqual(["kegWasher_Inputs", "kegWasher_Outputs"]);
    expect(within(inputs!, "baseType", "struct").children.map((member) => [name(member), typeOf(member)])).toEqual([
      ...[
        ["clampOpen", "BOOL"],
        ["clampShut", "BOOL"],
        ["causticTemp", "REAL"],
        ["supply", "REAL"],
        ["flow", "REAL"],
      ],
      ...[
        ["total", "ULINT"],
        ["tankFault", "BOOL"],
        ["mode", "USINT"],
        ["tank", "REAL"],
      ],
    ]);
    expect(within(outputs!, "baseType", "struct").children.map(typeOf)).toEqual([
      "BOOL",
      "BOOL",
      "REAL",
      "UDINT",
      "UINT",
    ]);
    expect(within(globals.get("kegWasher_Inputs_Values")!, "type", "derived").attributes).toEqual({
      name: "kegWasher_Inputs",
    });
  });

  test("values are of 64 bits where that is asked for", () => {
    const inputs = within(rootOf(kegWasherLayout, { arithmetic: "lreal" }), "types", "dataTypes").children[0]!;
    expect(
      within(inputs, "baseType", "struct")
        .children.filter((member) => typeOf(member) === "LREAL")
        .map(name),
    ).toEqual(["causticTemp", "supply", "tank"]);
  });

  test("documentation tells title, unit, code and the order in which the bytes travel", () => {
    expect(documentationOf(globals.get("kegWasher_In_supply")!)).toBe(
      "Supply pressure; bar; counts, in bytes 4, 3 from the least significant up",
    );
    expect(documentationOf(globals.get("kegWasher_Out_setLevel")!)).toBe(
      "code bcd; counts, in bytes 8, 9 from the least significant up",
    );
    expect(globals.get("kegWasher_In_clampShut")!.children.map((child) => child.name)).toEqual(["type"]);
  });

  test("a start address and counting in words move the addresses", () => {
    const addresses = { outputs: { start: 64, counting: "words" } } as const;
    const moved = new Map(
      globalsOf(rootOf(kegWasherLayout, { addresses })).map((variable) => [name(variable), variable]),
    );
    expect(moved.get("kegWasher_Out_steam")!.attributes.address).toBe("%QX64.1");
    expect(moved.get("kegWasher_Out_setLevel")!.attributes.address).toBe("%QW36");
    expect(moved.has("kegWasher_Out_speed")).toBe(false);
  });

  test("the points without an address are told", () => {
    expect(
      made(kegWasherLayout).notes.map(({ code, path, message }) => `${code} ${path}: ${message.slice(0, 8)}`),
    ).toEqual(["plcopen.noAddress inputs: 2 points", "plcopen.noAddress outputs: 1 point "]);
  });

  test("the head tells command, station and digest; the comment cautions; the time of creation is a constant", () => {
    const { comments } = readXml(made(kegWasherLayout).files[0]!.text);
    expect(comments[0]).toContain("Generated by `byterail generate`");
    expect(comments[1]).toMatch(/^ Station kegWasher.*[0-9a-f]{16}\. $/);
    expect(within(root, "contentHeader", "Comment").text).toMatch(
      /^Keg washer, skid 2 – Caution: .*no safety function/,
    );
    expect(within(root, "fileHeader").attributes.creationDateTime).toBe("1970-01-01T00:00:00");
    expect(made(assemble(structuredClone(kegWasher)))).toEqual(made(kegWasherLayout));
  });
});

describe("names", () => {
  const station: Station = {
    format: 1,
    name: "VAR_",
    byteOrder: "big",
    modules: [
      {
        name: "m",
        inputs: ["if", "a__b", "a_b", "A_B_", "Limit", "x"].map((point) => ({ name: point, type: "bit" as const })),
        outputs: [{ name: "x", type: "bit" }],
      },
    ],
  };

  test("reserved words and underlines give way, collisions get a number, and it is told", () => {
    const { files, notes } = made(assemble(station));
    const { root } = readXml(files[0]!.text);
    expect(within(root, "types", "dataTypes", "dataType", "baseType", "struct").children.map(name)).toEqual([
      "if_1",
      "a_b",
      "a_b_2",
      "A_B_3",
      "Limit_1",
      "x",
    ]);
    expect(globalsOf(root).map(name)).toEqual([
      ...[
        "VAR_Inputs_Bytes",
        "VAR_In_if",
        "VAR_In_a_b",
        "VAR_In_a_b_2",
        "VAR_In_A_B_3",
        "VAR_In_Limit",
        "VAR_In_x",
        "VAR_Inputs_Values",
      ],
      ...["VAR_Outputs_Bytes", "VAR_Out_x", "VAR_Outputs_Values"],
    ]);
    expect(notes.map(({ path }) => path)).toEqual(
      expect.arrayContaining(["inputs › if", "inputs › a_b", "inputs › A_B_", "inputs › Limit"]),
    );
  });
});

describe("whatever the station", () => {
  test("what the schema asks for, identifiers of the standard, each once in its scope, and the addresses of the core", () => {
    fc.assert(
      fc.property(awkwardStations(), (station) => {
        const layout: Layout = assemble(station);
        const root = rootOf(layout);
        expect(faults(root)).toEqual([]);
        const globals = globalsOf(root);
        const scopes = [
          globals,
          ...everyElement(root)
            .filter((element) => element.name === "struct")
            .map(({ children }) => children),
        ];
        for (const scope of scopes) {
          const names = scope.map((variable) => name(variable).toLowerCase());
          expect(new Set(names).size).toBe(names.length);
          for (const own of names) expect(own).toMatch(identifier);
        }
        const expected = (["inputs", "outputs"] as const).flatMap((direction) =>
          layout[direction].points.flatMap((point) => pointAddress(point, direction) ?? []),
        );
        const found = globals.flatMap(({ attributes: { address } }) =>
          address && !/^%[IQ]B0$/.test(address) ? [address] : [],
        );
        expect(found).toEqual(expected.filter((address) => !/^%[IQ]B0$/.test(address)));
      }),
      { numRuns: 40 },
    );
  });

  test.each(awkwardTexts)("%j as a title and a unit is read as it stands, less what XML forbids", (text) => {
    const root = rootOf(assemble(decorated(kegWasher, [text])));
    const shown = text
      .replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]+/gu, " ")
      .trim()
      .replace(/[\p{Cs}\uFFFE\uFFFF]/gu, "\uFFFD");
    const supply = globalsOf(root).find((variable) => name(variable) === "kegWasher_In_supply")!;
    expect(documentationOf(supply)).toBe(`${shown}; ${shown}; counts, in bytes 4, 3 from the least significant up`);
  });
});
