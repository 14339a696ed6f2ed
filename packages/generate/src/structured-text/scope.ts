/** What a piece of code needs around it: local variables, each of one type, and helper functions. Collected as code is made. */
import type { Elementary } from "./types.js";

/** Functions that the file declares where something uses them. */
export type Helper = "DivideDint" | "DivideLint" | "ToReal" | "FromReal" | "ToLreal" | "FromLreal";

/** A scope to be filled: one for each function block. */
export interface Scope {
  /** The name of a local variable of a type; `counts`, `UINT` is `countsUint`. Asked for again it is the same. */
  readonly variable: (
    use: "bits" | "counts" | "digit" | "value" | "scaled" | "index" | "valid",
    type: Elementary,
  ) => string;
  /** The name of a helper function. */
  readonly helper: (helper: Helper) => string;
  readonly variables: ReadonlyMap<string, Elementary>;
}

/** An empty scope. Helpers go to a set that all scopes of a file share. */
export function newScope(prefix: string, helpers: Set<Helper>): Scope {
  const variables = new Map<string, Elementary>();
  return {
    variables,
    variable: (use, type) => {
      const name = use === "index" || use === "valid" ? use : use + type[0] + type.slice(1).toLowerCase();
      variables.set(name, type);
      return name;
    },
    helper: (helper) => {
      helpers.add(helper);
      return `${prefix}_${helper}`;
    },
  };
}
