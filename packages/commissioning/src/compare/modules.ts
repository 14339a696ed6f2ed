/** What became of each module from one revision to the next. */
import type { Layout, Module } from "byterail";

/** What may have happened to a module. `moved`: its bytes start elsewhere. `resized`: it takes more or fewer bytes. */
export type ModuleChangeKind = "unchanged" | "moved" | "resized" | "reslotted" | "renamed" | "added" | "removed";

/** First byte and number of bytes in one direction. */
export interface Extent {
  readonly byte: number;
  readonly bytes: number;
}

/** A module in one revision. */
export interface ModulePlace {
  readonly name: string;
  readonly slot: number;
  /** Null where it has no data in that direction. */
  readonly inputs: Extent | null;
  readonly outputs: Extent | null;
}

/** One module in both revisions. */
export interface ModuleChange {
  /** Its name now; of a removed module, as it was. */
  readonly name: string;
  readonly changes: readonly ModuleChangeKind[];
  readonly old: ModulePlace | null;
  readonly new: ModulePlace | null;
  /** Of a renamed module: the same name but for its case, or a guess from the same slot and the same bytes. */
  readonly renamedBy: "case" | "guess" | null;
}

/** Compares the modules of two layouts, in the order of the new one; what is gone comes last. */
export function compareModules(before: Layout, after: Layout): readonly ModuleChange[] {
  const [old, now] = [placesOf(before), placesOf(after)];
  const byName = new Map(old.map((place) => [place.name.toLowerCase(), place]));
  const namedNow = new Set(now.map(({ name }) => name.toLowerCase()));
  const gone = new Map(
    old.filter(({ name }) => !namedNow.has(name.toLowerCase())).map((place) => [spotKey(place), place]),
  );
  const used = new Set<ModulePlace>();
  const changes = now.map((place) => {
    const spot = spotKey(place);
    const match = byName.get(place.name.toLowerCase()) ?? gone.get(spot) ?? null;
    if (match) used.add(match);
    // One guess a module: two new ones of no bytes in one slot are not both the old one.
    gone.delete(spot);
    return changeOf(match, place);
  });
  return [...changes, ...old.filter((place) => !used.has(place)).map((place) => changeOf(place, null))];
}

function placesOf({ station, inputs, outputs }: Layout): ModulePlace[] {
  const extents = ({ modules }: Layout["inputs"]) =>
    new Map(modules.map(({ name, byte, bytes }) => [name, { byte, bytes }]));
  const [inbound, outbound] = [extents(inputs), extents(outputs)];
  return station.modules.map(({ name, slot }: Module, index) => ({
    name,
    slot: slot ?? index,
    inputs: inbound.get(name) ?? null,
    outputs: outbound.get(name) ?? null,
  }));
}

function changeOf(old: ModulePlace | null, now: ModulePlace | null): ModuleChange {
  const same = (key: (extent: Extent | null) => number | undefined) =>
    (["inputs", "outputs"] as const).every((direction) => key(old![direction]) === key(now![direction]));
  const kinds: (readonly [ModuleChangeKind, boolean])[] =
    old && now
      ? [
          ["moved", !same((extent) => extent?.byte)],
          ["resized", !same((extent) => extent?.bytes)],
          ["reslotted", old.slot !== now.slot],
          ["renamed", old.name !== now.name],
        ]
      : [[old ? "removed" : "added", true]];
  const changes = kinds.filter(([, holds]) => holds).map(([kind]) => kind);
  const renamedBy = !changes.includes("renamed")
    ? null
    : old!.name.toLowerCase() === now!.name.toLowerCase()
      ? "case"
      : "guess";
  return { name: (now ?? old)!.name, changes: changes.length > 0 ? changes : ["unchanged"], old, new: now, renamedBy };
}

function spotKey({ slot, inputs, outputs }: ModulePlace): string {
  return JSON.stringify([slot, inputs, outputs]);
}
