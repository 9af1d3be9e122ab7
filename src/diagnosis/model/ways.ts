import type { MechanismId } from "../../domain/trade/mechanisms.ts";
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

/**
 * How much oftener the motor of an axis fails, with its driver and wires, than one in the head: it turns the weight of the
 * head in nearly every cue, at the highest current there is. Judgement.
 */
const AXIS_FAILS_OFTENER = 4;

/** Motors of a kind fail alike. */
function oneMotorOf(parts: readonly MovingPart[]): readonly Group[] {
  const wearOf = ({ mechanism, functions }: MovingPart) =>
    functions.length * (isAxis(mechanism) ? AXIS_FAILS_OFTENER : 1);
  const whole = parts.reduce((sum, part) => sum + wearOf(part), 0);
  return parts.map((part) => ({ share: wearOf(part) / whole, parts: [part] }));
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
  parts.filter(({ mechanism }) => !isAxis(mechanism));

const isAxis = (mechanism: MechanismId): boolean => mechanism === "pan-drive" || mechanism === "tilt-drive";
