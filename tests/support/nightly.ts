// What `npm test` does in a small part and a nightly script in full: `npm run proof -- languages`.

declare module "vitest" {
  interface TaskMeta {
    /** Random stations that were compared; cases are frames decoded, values encoded. */
    compared?: { readonly stations: number; readonly cases: number };
  }
}

/** How many random stations a comparison takes: as many as a script asks for, else the usual number. */
export function stationsToCompare(usual: number): number {
  return Number(process.env.BYTERAIL_STATIONS ?? usual);
}
