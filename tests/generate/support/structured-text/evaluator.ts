// Evaluates the subset. Typed as strictly as the standard allows: operands of one type, no conversion unsaid, and an error
// for every overflow, every index out of bounds, every loop that does not end.

import { argumentRule, standardFunction } from "./functions.js";
import { parse } from "./parser.js";
import type { Expression, Place, Statement, Structure, TypeName, Unit } from "./syntax.js";
import { asReal, initial, inRange, isBits, isInteger, isReal, type Value } from "./types.js";

const longestLoop = 3000;

type Data = Value | Data[] | { [member: string]: Data };
type Frame = Record<string, Data>;
type Typed = { readonly type: string; readonly run: (frame: Frame) => Value };
type Run = (frame: Frame) => void;

/** What a block gives back: the one or the other. */
export interface Outputs {
  readonly data: Readonly<Record<string, Value>>;
  readonly image: readonly bigint[];
}

/** An instance of a function block: it keeps its variables from call to call, as in a controller. */
export interface Instance {
  readonly call: (inputs: Readonly<Record<string, Data>>) => Outputs;
}

export interface Program {
  /** Members of a STRUCT with their types, in their order. */
  readonly structure: (name: string) => ReadonlyMap<string, string>;
  readonly structures: readonly string[];
  readonly blocks: readonly string[];
  readonly instance: (block: string) => Instance;
  /** The value of an expression of constants, for a type that a literal in it may need. */
  readonly evaluate: (name: string, ...list: readonly Value[]) => Value;
}

/** Parses and checks a file. Throws for whatever a strict compiler would refuse. */
export function load(text: string): Program {
  const file = parse(text);
  const structures = new Map<string, Structure>();
  const functions = new Map<string, { readonly unit: Unit; readonly run: (list: readonly Value[]) => Value }>();
  const blocks = new Map<string, { readonly unit: Unit; readonly body: Run }>();
  const declare = (name: string) => {
    if (structures.has(name) || functions.has(name) || blocks.has(name)) throw new Error(`${name} is declared twice`);
  };
  for (const structure of file.structures) {
    declare(structure.name);
    structures.set(structure.name, structure);
  }
  // A function is declared before it is used, as many compilers want.
  for (const unit of file.units) {
    declare(unit.name);
    const body = compileBody(unit);
    if (unit.kind === "FUNCTION_BLOCK") blocks.set(unit.name, { unit, body });
    else functions.set(unit.name, { unit, run: functionRun(unit, body) });
  }
  return {
    structure: (name) => structures.get(name.toLowerCase())!.members,
    structures: [...structures.keys()],
    blocks: [...blocks.keys()],
    instance: (name) => {
      const { unit, body } = blocks.get(name.toLowerCase())!;
      const frame = newFrame(unit);
      const of = (section: string) => unit.variables.filter((variable) => variable.section === section);
      return {
        call: (inputs) => {
          for (const { name } of of("VAR_INPUT")) frame[name] = inputs[name]!;
          body(frame);
          return Object.fromEntries(of("VAR_OUTPUT").map(({ name }) => [name, frame[name]])) as unknown as Outputs;
        },
      };
    },
    evaluate: (name, ...list) => functions.get(name.toLowerCase())!.run(list),
  };

  function functionRun(unit: Unit, body: Run): (list: readonly Value[]) => Value {
    const inputs = unit.variables.filter(({ section }) => section === "VAR_INPUT");
    return (list) => {
      const frame = newFrame(unit);
      for (const [k, { name }] of inputs.entries()) frame[name] = list[k]!;
      body(frame);
      return frame[unit.name] as Value;
    };
  }

  function newFrame(unit: Unit): Frame {
    const frame: Frame = {};
    for (const { name, type } of unit.variables) frame[name] = fresh(type);
    if (unit.returns) frame[unit.name] = initial(unit.returns);
    return frame;
  }

  function fresh(type: TypeName): Data {
    if ("of" in type) return Array.from({ length: type.high - type.low + 1 }, () => initial(type.of));
    const structure = structures.get(type.name);
    if (structure) return Object.fromEntries([...structure.members].map(([member, of]) => [member, initial(of)]));
    if (!isElementary(type.name)) throw new Error(`${type.name} is no type`);
    return initial(type.name);
  }

  function compileBody(unit: Unit): Run {
    const types = new Map<string, TypeName>(unit.variables.map(({ name, type }) => [name, type]));
    if (unit.returns) types.set(unit.name, { name: unit.returns });
    const readOnly = new Set(unit.variables.filter(({ section }) => section === "VAR_INPUT").map(({ name }) => name));
    newFrame(unit);
    return sequence(unit.body);

    function sequence(list: readonly Statement[]): Run {
      const runs = list.map(statement);
      return (frame) => {
        for (const run of runs) run(frame);
      };
    }

    function statement(of: Statement): Run {
      switch (of.kind) {
        case "assign": {
          const target = place(of.place, "write");
          const value = expression(of.value, target.type);
          expectType(value.type, target.type, of.place.line);
          return (frame) => target.set(frame, value.run(frame));
        }
        case "if": {
          const cases = of.cases.map(({ condition, body }) => ({
            condition: booleanOf(condition),
            body: sequence(body),
          }));
          const otherwise = sequence(of.otherwise);
          return (frame) => (cases.find(({ condition }) => condition.run(frame))?.body ?? otherwise)(frame);
        }
        case "while": {
          const condition = booleanOf(of.condition);
          const body = sequence(of.body);
          return (frame) => {
            for (let rounds = 0; condition.run(frame); rounds++) {
              if (rounds > longestLoop) throw new Error("a loop does not end");
              body(frame);
            }
          };
        }
        case "for": {
          const variable = place(of.variable, "write");
          const [from, to] = [expression(of.from, variable.type), expression(of.to, variable.type)];
          if (!isInteger(variable.type)) throw new Error(`FOR over ${variable.type}`);
          for (const { type } of [from, to]) expectType(type, variable.type, of.variable.line);
          const body = sequence(of.body);
          return (frame) => {
            const last = to.run(frame) as bigint;
            for (let n = from.run(frame) as bigint; of.by > 0n ? n <= last : n >= last; n += of.by) {
              variable.set(frame, inRange(n, variable.type));
              body(frame);
            }
          };
        }
      }
    }

    function booleanOf(of: Expression): Typed {
      const condition = expression(of, "BOOL");
      if (condition.type !== "BOOL") throw new Error(`a condition of type ${condition.type}`);
      return condition;
    }

    function place({ name, steps, line }: Place, access: "read" | "write") {
      const type = types.get(name);
      if (!type) throw new Error(`line ${line}: ${name} is not declared`);
      if (access === "write" && readOnly.has(name)) throw new Error(`line ${line}: ${name} is an input`);
      const [step] = steps;
      if (!step) {
        if ("of" in type || structures.has(type.name)) throw new Error(`line ${line}: ${name} as a whole`);
        return {
          type: type.name,
          get: (frame: Frame) => frame[name] as Value,
          set: (frame: Frame, value: Value) => {
            frame[name] = value;
          },
        };
      }
      if ("member" in step) {
        const of = "of" in type ? undefined : structures.get(type.name)?.members.get(step.member);
        if (!of) throw new Error(`line ${line}: ${name} has no member ${step.member}`);
        const { member } = step;
        const home = (frame: Frame) => frame[name] as Record<string, Value>;
        return {
          type: of,
          get: (frame: Frame) => home(frame)[member]!,
          set: (frame: Frame, value: Value) => {
            home(frame)[member] = value;
          },
        };
      }
      if (!("of" in type)) throw new Error(`line ${line}: ${name} is no array`);
      const index = expression(step.index, "INT");
      const at = (frame: Frame) => {
        const n = Number(index.run(frame));
        if (n < type.low || n > type.high) throw new RangeError(`line ${line}: ${name}[${n}]`);
        return n - type.low;
      };
      return {
        type: type.of,
        get: (frame: Frame) => (frame[name] as Value[])[at(frame)]!,
        set: (frame: Frame, value: Value) => {
          (frame[name] as Value[])[at(frame)] = value;
        },
      };
    }

    function expression(of: Expression, wanted: string): Typed {
      switch (of.kind) {
        case "boolean":
          return { type: "BOOL", run: () => of.value };
        case "integer":
        case "bits": {
          const type = of.type ?? wanted;
          if (!isInteger(type) && !(isBits(type) && of.kind === "bits")) throw new Error(`${of.value} as ${type}`);
          const value = inRange(of.value, type);
          return { type, run: () => value };
        }
        case "real": {
          const type = of.type ?? wanted;
          if (!isReal(type)) throw new Error(`${of.value} as ${type}`);
          const value = asReal(of.value, type);
          return { type, run: () => value };
        }
        case "place": {
          const { type, get } = place(of.place, "read");
          return { type, run: get };
        }
        case "unary":
          return unary(of.operator, expression(of.of, wanted));
        case "binary":
          return binary(of, wanted);
        case "call":
          return call(of, wanted);
      }
    }

    function call({ name, list, line }: Expression & { kind: "call" }, wanted: string): Typed {
      const own = functions.get(name);
      if (own) {
        const inputs = own.unit.variables.filter(({ section }) => section === "VAR_INPUT");
        if (inputs.length !== list.length) throw new Error(`line ${line}: ${name} takes ${inputs.length} arguments`);
        const given = list.map((argument, k) => {
          const type = (inputs[k]!.type as { name: string }).name;
          const value = expression(argument, type);
          expectType(value.type, type, line);
          return value;
        });
        return { type: own.unit.returns!, run: (frame) => own.run(given.map(({ run }) => run(frame))) };
      }
      const rule = argumentRule(name);
      const common =
        rule === "same" || rule === "shift"
          ? (list.map((argument) => typeOf(argument)).find((type) => type !== null) ?? wanted)
          : rule;
      const given = list.map((argument, k) =>
        expression(argument, rule === "shift" && k === 1 ? "INT" : rule === "shift" ? wanted : common),
      );
      if (rule !== "same" && rule !== "shift") expectType(given[0]!.type, rule, line);
      const found = standardFunction(
        name,
        given.map(({ type }) => type),
      );
      if (!found) throw new Error(`line ${line}: no function ${name} of ${given.map(({ type }) => type).join(", ")}`);
      return { type: found.returns, run: (frame) => found.run(given.map(({ run }) => run(frame))) };
    }

    // The type that an expression has of itself, or null where a literal takes that of its neighbour.
    function typeOf(of: Expression): string | null {
      if (of.kind === "integer" || of.kind === "bits" || of.kind === "real") return of.type;
      if (of.kind === "unary") return typeOf(of.of);
      if (of.kind === "binary")
        return /^(=|<>|<|>|<=|>=)$/.test(of.operator) ? "BOOL" : (typeOf(of.left) ?? typeOf(of.right));
      return expression(of, "INT").type;
    }

    function binary({ operator, left, right }: Expression & { kind: "binary" }, wanted: string): Typed {
      const compares = /^(=|<>|<|>|<=|>=)$/.test(operator);
      const common = typeOf(left) ?? typeOf(right) ?? wanted;
      const [a, b] = [expression(left, common), expression(right, common)];
      if (a.type !== b.type) throw new Error(`${a.type} ${operator} ${b.type}`);
      const { type } = a;
      const compute = compares
        ? comparison(operator, type)
        : isReal(type)
          ? onReals(operator, type)
          : isInteger(type)
            ? onIntegers(operator, type)
            : onBits(operator, type);
      return { type: compares ? "BOOL" : type, run: (frame) => compute(a.run(frame), b.run(frame)) };
    }
  }
}

type Operation = (a: Value, b: Value) => Value;

function unary(operator: "-" | "NOT", { type, run }: Typed): Typed {
  if (operator === "NOT" && type === "BOOL") return { type, run: (frame) => !run(frame) };
  if (operator === "-" && isReal(type)) return { type, run: (frame) => -(run(frame) as number) };
  if (operator === "-" && isInteger(type)) return { type, run: (frame) => inRange(-(run(frame) as bigint), type) };
  throw new Error(`${operator} of ${type}`);
}

function comparison(operator: string, type: string): Operation {
  // Bit strings have no order that every compiler knows.
  if ((isBits(type) || type === "BOOL") && operator !== "=" && operator !== "<>")
    throw new Error(`${operator} on ${type}`);
  const operations: Record<string, Operation> = {
    "=": (a, b) => a === b,
    "<>": (a, b) => a !== b,
    "<": (a, b) => a < b,
    ">": (a, b) => a > b,
    "<=": (a, b) => a <= b,
    ">=": (a, b) => a >= b,
  };
  return operations[operator]!;
}

function onReals(operator: string, type: string): Operation {
  const operations: Record<string, (a: number, b: number) => number> = {
    "+": (a, b) => a + b,
    "-": (a, b) => a - b,
    "*": (a, b) => a * b,
    "/": (a, b) => a / b,
  };
  const operation = operations[operator];
  if (!operation) throw new Error(`${operator} on ${type}`);
  // A double result rounded once more to single is the single result (the double has more than twice its digits).
  return (a, b) => asReal(operation(a as number, b as number), type);
}

function onIntegers(operator: string, type: string): Operation {
  const operations: Record<string, (a: bigint, b: bigint) => bigint> = {
    "+": (a, b) => a + b,
    "-": (a, b) => a - b,
    "*": (a, b) => a * b,
    "/": (a, b) => a / b,
    MOD: (a, b) => a % b,
  };
  const operation = operations[operator];
  if (!operation) throw new Error(`${operator} on ${type}`);
  return (a, b) => inRange(operation(a as bigint, b as bigint), type);
}

function onBits(operator: string, type: string): Operation {
  const operations: Record<string, Operation> =
    type === "BOOL"
      ? { AND: (a, b) => a && b, OR: (a, b) => a || b, XOR: (a, b) => a !== b }
      : { AND: (a, b) => big(a) & big(b), OR: (a, b) => big(a) | big(b), XOR: (a, b) => big(a) ^ big(b) };
  const operation = operations[operator];
  if (!operation) throw new Error(`${operator} on ${type}`);
  return operation;
}

function big(value: Value): bigint {
  return value as bigint;
}

function isElementary(type: string): boolean {
  return type === "BOOL" || isBits(type) || isInteger(type) || isReal(type);
}

function expectType(type: string, wanted: string, line: number): void {
  if (type !== wanted) throw new Error(`line ${line}: ${type} where ${wanted} is wanted`);
}
