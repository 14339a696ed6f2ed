// The syntax tree of the subset.

export type Expression =
  | { readonly kind: "integer" | "bits"; readonly value: bigint; readonly type: string | null }
  | { readonly kind: "real"; readonly value: number; readonly type: string | null }
  | { readonly kind: "boolean"; readonly value: boolean }
  | { readonly kind: "place"; readonly place: Place }
  | { readonly kind: "unary"; readonly operator: "-" | "NOT"; readonly of: Expression }
  | { readonly kind: "binary"; readonly operator: string; readonly left: Expression; readonly right: Expression }
  | { readonly kind: "call"; readonly name: string; readonly list: readonly Expression[]; readonly line: number };

/** A variable, a member or an element of one. */
export interface Place {
  readonly name: string;
  readonly steps: readonly ({ readonly member: string } | { readonly index: Expression })[];
  readonly line: number;
}

export type Statement =
  | { readonly kind: "assign"; readonly place: Place; readonly value: Expression }
  | {
      readonly kind: "if";
      readonly cases: readonly { readonly condition: Expression; readonly body: readonly Statement[] }[];
      readonly otherwise: readonly Statement[];
    }
  | {
      readonly kind: "for";
      readonly variable: Place;
      readonly from: Expression;
      readonly to: Expression;
      readonly by: bigint;
      readonly body: readonly Statement[];
    }
  | { readonly kind: "while"; readonly condition: Expression; readonly body: readonly Statement[] };

/** A type: elementary, a STRUCT by its name, or an array. */
export type TypeName = { readonly name: string } | { readonly low: number; readonly high: number; readonly of: string };

export interface Variable {
  readonly section: "VAR" | "VAR_INPUT" | "VAR_OUTPUT";
  readonly name: string;
  readonly type: TypeName;
}

export interface Unit {
  readonly kind: "FUNCTION" | "FUNCTION_BLOCK";
  readonly name: string;
  readonly returns: string | null;
  readonly variables: readonly Variable[];
  readonly body: readonly Statement[];
}

export interface Structure {
  readonly name: string;
  readonly members: ReadonlyMap<string, string>;
}

export interface SourceFile {
  readonly structures: readonly Structure[];
  readonly units: readonly Unit[];
}
