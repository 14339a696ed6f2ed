/** What has to be made anew after a change, and which addresses in the controller no longer mean what they meant. */
import type { Direction } from "byterail";
import type { PointChange, PointChangeKind } from "./points.js";

/**
 * Something made from the description. `connection`: sizes entered in the scanner or controller. `code`: types and codecs in any
 * language. `controllerDeclarations`: tags and addresses. `controllerScaling`: scaling and bit copies. `tables`: I/O lists.
 * `drawing`: the byte map. `checkSheet`: the loop-check sheet.
 */
export type Artefact =
  | "connection"
  | "code"
  | "controllerDeclarations"
  | "controllerScaling"
  | "tables"
  | "drawing"
  | "checkSheet";

/** An artefact that has to be made anew, and why. */
export interface AffectedArtefact {
  readonly artefact: Artefact;
  readonly because: readonly (PointChangeKind | "resized")[];
}

/** A controller's address that changed hands. */
export interface AffectedAddress {
  readonly direction: Direction;
  readonly name: string;
  readonly old: string | null;
  readonly new: string | null;
}

type Kind = PointChangeKind | "resized";
const place: readonly Kind[] = ["moved", "retyped", "reordered", "renamed", "added", "removed"];
const scaling: readonly Kind[] = [...place, "rescaled"];
const all: readonly Kind[] = [...scaling, "redescribed"];

const causes: readonly (readonly [Artefact, readonly Kind[]])[] = [
  ["connection", ["resized"]],
  ["code", [...all, "resized"]],
  ["controllerDeclarations", [...place, "resized"]],
  ["controllerScaling", scaling],
  ["tables", [...all, "resized"]],
  ["drawing", [...scaling, "resized"]],
  ["checkSheet", [...all, "resized"]],
];

/** The artefacts affected by the changes of points and, as `resized`, of an image. */
export function affectedArtefacts(kinds: ReadonlySet<Kind>): readonly AffectedArtefact[] {
  return causes
    .map(([artefact, by]) => ({ artefact, because: by.filter((kind) => kinds.has(kind)) }))
    .filter(({ because }) => because.length > 0);
}

/** The addresses that are new, gone, or somebody else's. */
export function affectedAddresses(points: readonly PointChange[]): readonly AffectedAddress[] {
  return points
    .filter((change) => change.old?.address !== change.new?.address)
    .map(({ direction, name, old, new: now }) => ({
      direction,
      name,
      old: old?.address ?? null,
      new: now?.address ?? null,
    }));
}
