/** Outputs that must not be on together, such as the two coils of a double-solenoid valve. */
import type { Station } from "byterail";

/** For each output in a group, the others of its groups. */
export type ExclusiveWith = ReadonlyMap<string, readonly string[]>;

/** The exclusive outputs of a station. */
export function exclusiveOutputs(station: Station): ExclusiveWith {
  const others = new Map<string, string[]>();
  for (const group of station.modules.flatMap(({ exclusive = [] }) => exclusive))
    for (const name of group)
      others.set(name, [...(others.get(name) ?? []), ...group.filter((other) => other !== name)]);
  return others;
}
