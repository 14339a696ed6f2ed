// Text → syntax tree. Precedence as in IEC 61131-3, table 52: - NOT, * / MOD, + -, < > <= >=, = <>, AND, XOR, OR.

import { nameProblem, tokensOf, type Token } from "./lexer.js";
import type { Expression, Place, SourceFile, Statement, Structure, TypeName, Unit, Variable } from "./syntax.js";

const levels = [["OR"], ["XOR"], ["AND"], ["=", "<>"], ["<", ">", "<=", ">="], ["+", "-"], ["*", "/", "MOD"]];

export function parse(text: string): SourceFile {
  const tokens = tokensOf(text);
  let at = 0;
  const peek = () => tokens[at]!;
  const is = (text: string) => peek().text === text && peek().kind !== "name";
  const next = (): Token => tokens[at++]!;
  const fail = (wanted: string): never => {
    throw new Error(`line ${peek().line}: ${wanted} wanted, not ${peek().text}`);
  };
  const eat = (text: string) => (is(text) ? next() : fail(text));
  const maybe = (text: string) => is(text) && next() !== undefined;
  const name = () => (peek().kind === "name" ? next().text : fail("a name"));
  const declared = () => {
    const problem = nameProblem(peek().text);
    return problem ? fail(`a legal name (${peek().text} ${problem})`) : name();
  };

  const structures: Structure[] = [];
  const units: Unit[] = [];
  while (peek().kind !== "end") {
    if (maybe("TYPE")) {
      structures.push(structure());
      eat("END_TYPE");
    } else units.push(unit());
  }
  return { structures, units };

  function structure(): Structure {
    const own = declared();
    eat(":");
    eat("STRUCT");
    const members = new Map<string, string>();
    while (!maybe("END_STRUCT")) {
      const member = declared();
      if (members.has(member)) fail(`a name other than ${member}`);
      eat(":");
      members.set(member, elementary());
      eat(";");
    }
    if (members.size === 0) fail("a member");
    eat(";");
    return { name: own, members };
  }

  function elementary(): string {
    return peek().kind === "keyword" ? next().text : fail("an elementary type");
  }

  function unit(): Unit {
    const kind = is("FUNCTION") ? "FUNCTION" : "FUNCTION_BLOCK";
    eat(kind);
    const own = declared();
    const returns = kind === "FUNCTION" && maybe(":") ? elementary() : null;
    const variables: Variable[] = [];
    for (;;) {
      const section = (["VAR_INPUT", "VAR_OUTPUT", "VAR"] as const).find((word) => is(word));
      if (!section) break;
      eat(section);
      while (!maybe("END_VAR")) {
        const variable = declared();
        if (variables.some(({ name }) => name === variable)) fail(`a name other than ${variable}`);
        eat(":");
        variables.push({ section, name: variable, type: typeName() });
        eat(";");
      }
    }
    const body = statements(`END_${kind}`);
    return { kind, name: own, returns, variables, body };
  }

  function typeName(): TypeName {
    if (!maybe("ARRAY")) return { name: next().text };
    eat("[");
    const low = Number(next().value);
    eat("..");
    const high = Number(next().value);
    eat("]");
    eat("OF");
    return { low, high, of: elementary() };
  }

  function statements(end: string): Statement[] {
    const list = statementsTo(end);
    eat(end);
    return list;
  }

  function statementsTo(...ends: string[]): Statement[] {
    const list: Statement[] = [];
    while (!ends.some((end) => is(end))) list.push(statement());
    return list;
  }

  function statement(): Statement {
    if (maybe("IF")) {
      const cases = [];
      let otherwise: Statement[] = [];
      do {
        const condition = expression();
        eat("THEN");
        cases.push({ condition, body: statementsTo("ELSIF", "ELSE", "END_IF") });
      } while (maybe("ELSIF"));
      if (maybe("ELSE")) otherwise = statementsTo("END_IF");
      eat("END_IF");
      eat(";");
      return { kind: "if", cases, otherwise };
    }
    if (maybe("WHILE")) {
      const condition = expression();
      eat("DO");
      const body = statements("END_WHILE");
      eat(";");
      return { kind: "while", condition, body };
    }
    if (maybe("FOR")) {
      const variable = place();
      eat(":=");
      const from = expression();
      eat("TO");
      const to = expression();
      const minus = maybe("BY") && maybe("-");
      const by = tokens[at - 1]!.text === "BY" || minus ? BigInt(next().value!) : 1n;
      eat("DO");
      const body = statements("END_FOR");
      eat(";");
      return { kind: "for", variable, from, to, by: minus ? -by : by, body };
    }
    const target = place();
    eat(":=");
    const value = expression();
    eat(";");
    return { kind: "assign", place: target, value };
  }

  function place(): Place {
    const { line } = peek();
    const own = name();
    const steps: ({ member: string } | { index: Expression })[] = [];
    for (;;) {
      if (maybe(".")) steps.push({ member: name() });
      else if (maybe("[")) {
        steps.push({ index: expression() });
        eat("]");
      } else return { name: own, steps, line };
    }
  }

  function expression(level = 0): Expression {
    const operators = levels[level];
    if (!operators) return unary();
    let left = expression(level + 1);
    for (;;) {
      const operator = operators.find((text) => is(text));
      if (operator === undefined) return left;
      next();
      left = { kind: "binary", operator, left, right: expression(level + 1) };
    }
  }

  function unary(): Expression {
    const literal = tokens[at + 1]!;
    if (is("-") && (literal.kind === "integer" || literal.kind === "real") && literal.type === undefined) {
      // A sign is part of the number, so that the lowest number of a type can be written.
      next();
      next();
      return literal.kind === "integer"
        ? { kind: "integer", value: -(literal.value as bigint), type: null }
        : { kind: "real", value: -(literal.value as number), type: null };
    }
    if (maybe("-")) return { kind: "unary", operator: "-", of: unary() };
    if (maybe("NOT")) return { kind: "unary", operator: "NOT", of: unary() };
    return primary();
  }

  function primary(): Expression {
    const token = peek();
    if (maybe("(")) {
      const inner = expression();
      eat(")");
      return inner;
    }
    if (maybe("TRUE")) return { kind: "boolean", value: true };
    if (maybe("FALSE")) return { kind: "boolean", value: false };
    if (token.kind === "integer" || token.kind === "bits" || token.kind === "real") {
      next();
      return { kind: token.kind, value: token.value!, type: token.type ?? null } as Expression;
    }
    if (tokens[at + 1]!.text !== "(") return { kind: "place", place: place() };
    const called = name();
    eat("(");
    const list = [expression()];
    while (maybe(",")) list.push(expression());
    eat(")");
    return { kind: "call", name: called, list, line: token.line };
  }
}
