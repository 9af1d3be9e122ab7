import type { MechanismId } from "../../domain/trade/mechanisms.ts";
import { isAxisMechanism } from "../../domain/trade/symptoms.ts";
import type { Probability } from "../../domain/units.ts";
import type { FaultEffect } from "./knowledge/entry.ts";
import type { MovingPart } from "./places.ts";

/** One of the ways a fault can go: which parts it hits, and how surely each of them. */
export interface Group {
  readonly share: Probability;
  readonly parts: readonly MovingPart[];
}

/**
 * The ways in which a fault strikes several parts: exactly one copy, one motor or one plug, or all
 * parts or none: each way with its share.
 */
export function groupsFor(
  grouped: readonly FaultEffect[],
  copies: readonly MovingPart[],
  parts: readonly MovingPart[],
): readonly Group[] {
  const [first] = grouped;
  if (!first || parts.length === 0) return [];
  switch (first.on) {
    case "board":
      return boardsOf(parts, parts);
    case "loom":
      return boardsOf(parts, beyondTheYoke(parts));
    case "one":
      return oneMotorOf(parts);
    case "each":
      return [
        { share: first.often, parts },
        { share: 1 - first.often, parts: [] },
      ];
    default:
      return copies.map((part) => ({ share: 1 / copies.length, parts: [part] }));
  }
}

/** Any motor may fail as well as any other. */
function oneMotorOf(parts: readonly MovingPart[]): readonly Group[] {
  const motors = parts.reduce((sum, { functions }) => sum + functions.length, 0);
  return parts.map((part) => ({ share: part.functions.length / motors, parts: [part] }));
}

/** What is usually driven from one board. Common practice, no source. */
const BOARDS: readonly (readonly MechanismId[])[] = [
  ["pan-drive", "tilt-drive"],
  ["colour-flags", "colour-wheel"],
  ["fixed-gobo-wheel", "rotating-gobo-wheel", "effect-wheel"],
  ["prism", "frost", "iris", "dimmer-shutter"],
  ["zoom", "focus"],
  ["framing-blades"],
];
/** A plug serves one motor, a board or the whole head: judgement, by how many plugs of each kind a head has. */
const PLUG = { motor: 0.45, board: 0.35, head: 0.2 } as const;
function boardsOf(parts: readonly MovingPart[], head: readonly MovingPart[]): readonly Group[] {
  const boards = BOARDS.map((on) => parts.filter(({ mechanism }) => on.includes(mechanism))).filter(
    ({ length }) => length > 0,
  );
  return [
    ...oneMotorOf(parts).map((one) => ({ ...one, share: one.share * PLUG.motor })),
    ...boards.map((board) => ({ share: PLUG.board / boards.length, parts: board })),
    { share: PLUG.head, parts: head },
  ];
}

/** The motors of pan and tilt sit in base and yoke: what runs on into the head does not feed them. */
const beyondTheYoke = (parts: readonly MovingPart[]): readonly MovingPart[] =>
  parts.filter(({ mechanism }) => !isAxisMechanism(mechanism));
