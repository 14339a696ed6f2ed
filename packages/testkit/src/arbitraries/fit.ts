/**
 * Reserves, pins, bit orders, lengths and limits, made to fit. Which place a module has is asked of core, step by step:
 * no rule of placement is known here.
 */
import {
  assemble,
  ByterailError,
  type Direction,
  type Gap,
  type Layout,
  type Module,
  type NetworkId,
  networks,
  type Station,
} from "byterail";

type Sides<T> = { readonly [D in Direction]?: T };

/** What a station would like to have, as far as it fits. */
export interface Wishes {
  /** By module: bytes to reserve beyond its points, bytes to leave before its pin. */
  readonly reserves: readonly Sides<number>[];
  readonly pins: readonly Sides<number>[];
  /** Multiples of `lengthMultiple` to add to the length. */
  readonly lengths: Sides<number>;
  readonly network: NetworkId | null;
  readonly byteOrder: "own" | "ofNetwork";
}

const directions = ["inputs", "outputs"] as const;

/** The station with its wishes fulfilled. */
export function fitted(plain: Station, { reserves, pins, lengths, network, byteOrder }: Wishes): Station {
  let station = withModules(plain, (module, index) => reserved(module, reserves[index]!, plain));
  station = agreeing(station);
  for (const direction of directions) station = pinned(station, direction, pins);
  return onNetwork(withLengths(station, lengths), network, byteOrder);
}

function withModules(station: Station, change: (module: Module, index: number) => Module): Station {
  return { ...station, modules: station.modules.map(change) };
}

function layoutOf(station: Station): Layout {
  return assemble(station) as Layout;
}

// The size of a module that stands alone is what its points need.
function reserved(module: Module, wish: Sides<number>, station: Station): Module {
  const { inputs, outputs } = wish;
  if (inputs === undefined && outputs === undefined) return module;
  const { inputOffset: _, outputOffset: __, ...bare } = module;
  const alone = layoutOf({ format: 1, name: "station", byteOrder: station.byteOrder!, modules: [bare] });
  const size = (direction: Direction, more: number) => (alone[direction].modules[0]?.bytes ?? 0) + more;
  return {
    ...module,
    ...(inputs !== undefined && { inputBytes: size("inputs", inputs) }),
    ...(outputs !== undefined && { outputBytes: size("outputs", outputs) }),
  };
}

// Modules that share a byte need one bit order: where core complains, all have that of the placement.
function agreeing(station: Station): Station {
  try {
    assemble(station);
    return station;
  } catch (error) {
    const disagree =
      error instanceof ByterailError && error.problems.every(({ code }) => code === "placement.bitOrder");
    if (!disagree) throw error;
    return withModules(station, ({ bitOrder: _, ...module }) => module);
  }
}

// A pin holds a module some bytes behind the place that it would have, or, where it is the last, in an earlier gap. Pins
// are set in the order of placement, so that what comes behind one still moves.
function pinned(station: Station, direction: Direction, wishes: Wishes["pins"]): Station {
  const key = direction === "inputs" ? "inputOffset" : "outputOffset";
  const order = layoutOf(station)[direction].modules.map(({ name }) => name);
  return order.reduce((before, name) => {
    const index = before.modules.findIndex((module) => module.name === name);
    const wish = wishes[index]![direction];
    if (wish === undefined) return before;
    const { modules, gaps } = layoutOf(before)[direction];
    const own = modules.find((extent) => extent.name === name)!;
    const isFree = ({ why, bytes }: Gap) => (why === "pin" || why === "alignment") && bytes >= own.bytes;
    const gap = name === order.at(-1) ? gaps.find(isFree) : undefined;
    const offset = gap ? gap.byte : own.byte + 1 + wish;
    // What comes behind may now share a byte that it did not share before.
    return agreeing(withModules(before, (module, k) => (k === index ? { ...module, [key]: offset } : module)));
  }, station);
}

function withLengths(station: Station, lengths: Sides<number>): Station {
  const layout = layoutOf(station);
  const placement = { ...station.placement };
  for (const direction of directions) {
    const more = lengths[direction];
    if (more === undefined) continue;
    const rules = placement[direction] ?? {};
    placement[direction] = { ...rules, length: layout[direction].byteLength + more * (rules.lengthMultiple ?? 1) };
  }
  return Object.keys(placement).length > 0 ? { ...station, placement } : station;
}

// Where an image is too long for its network, the station states a limit of its own.
function onNetwork(station: Station, network: NetworkId | null, byteOrder: Wishes["byteOrder"]): Station {
  if (!network) return station;
  const layout = layoutOf(station);
  const over = directions.filter((direction) => layout[direction].byteLength > networks[network][direction].bytes);
  const limits = Object.fromEntries(over.map((direction) => [direction, layout[direction].byteLength]));
  const { byteOrder: own, ...rest } = station;
  return {
    ...rest,
    network,
    ...(byteOrder === "own" && { byteOrder: own! }),
    ...(over.length > 0 && { limits }),
  };
}
