// Turns a documentation snippet into a module that checks what the snippet claims.
//
//   decode(layout.inputs, bytes); // → { level: 100 }     the value deeply equals the literal
//   const x = lengthOf(layout);   // → 4                   so does the value given to x
//   encode(layout.outputs, {});   // throws value.missing  an error whose problems include that code is thrown
//
// The comment stands at the end of the statement's last line, or begins the line after it; further comment lines that are
// indented by three spaces or more continue a literal. A claim that belongs to no statement is an error.

import ts from "typescript";

interface Edit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

interface Claim {
  readonly kind: "equals" | "throws";
  readonly text: string;
  readonly end: number;
}

/** The JavaScript of the module; it calls `check.equals` and `check.throws`, imported from `checksFrom`. */
export function moduleOf(source: string, checksFrom: string): string {
  const file = ts.createSourceFile("snippet.ts", source, ts.ScriptTarget.ES2022, true);
  const edits = editsIn(file, source);
  const claims = claimComments(source);
  if (edits.length !== claims) {
    throw new Error(`${claims} claims, but only ${edits.length} stand behind an expression or a const:\n${source}`);
  }
  const checked = [...edits]
    .sort((a, b) => b.start - a.start)
    .reduce((text, { start, end, text: by }) => text.slice(0, start) + by + text.slice(end), source);
  const { outputText, diagnostics } = ts.transpileModule(checked, {
    reportDiagnostics: true,
    compilerOptions: { target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.ESNext },
  });
  const fault = diagnostics?.[0];
  if (fault) throw new Error(`${ts.flattenDiagnosticMessageText(fault.messageText, "\n")}\n${checked}`);
  return `import * as check from ${JSON.stringify(checksFrom)};\n${outputText}`;
}

function editsIn(file: ts.SourceFile, source: string): readonly Edit[] {
  const edits: Edit[] = [];
  const visit = (node: ts.Node): void => {
    const claim =
      ts.isExpressionStatement(node) || ts.isVariableStatement(node) ? claimAfter(source, node.end) : undefined;
    if (claim && ts.isExpressionStatement(node)) {
      const expression = node.expression.getText(file);
      edits.push({ start: node.getStart(file), end: claim.end, text: `${assertion(claim, expression)}\n` });
    } else if (claim && ts.isVariableStatement(node)) {
      const name = node.declarationList.declarations.at(-1)!.name;
      if (claim.kind === "equals" && ts.isIdentifier(name)) {
        edits.push({ start: node.end, end: claim.end, text: `\n${assertion(claim, name.text)}\n` });
      }
    } else {
      ts.forEachChild(node, visit);
    }
  };
  visit(file);
  return edits;
}

function assertion(claim: Claim, expression: string): string {
  const title = JSON.stringify(expression);
  if (claim.kind === "equals") return `check.equals(${title}, (${expression}), (${claim.text}));`;
  return expression.includes("await ")
    ? `await check.rejects(${title}, async () => (${expression}), ${JSON.stringify(claim.text)});`
    : `check.throws(${title}, () => (${expression}), ${JSON.stringify(claim.text)});`;
}

// The claim that follows position `end`: on the same line, or as the whole of the next.
function claimAfter(source: string, end: number): Claim | undefined {
  const rest = source.slice(end);
  const equals = /^[ \t]*(?:\n[ \t]*)?\/\/ → ?(.*(?:\n[ \t]*\/\/ {3,}.*)*)/.exec(rest);
  if (equals) {
    const literal = equals[1]!.replace(/\n[ \t]*\/\//g, "\n");
    return { kind: "equals", text: literal, end: end + equals[0].length };
  }
  const throws = /^[ \t]*(?:\n[ \t]*)?\/\/ throws (\S+)/.exec(rest);
  return throws ? { kind: "throws", text: throws[1]!, end: end + throws[0].length } : undefined;
}

function claimComments(source: string): number {
  return source.match(/\/\/ (?:→|throws \S)/g)?.length ?? 0;
}
