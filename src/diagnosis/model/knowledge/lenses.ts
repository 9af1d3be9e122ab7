import type { Probability } from "../../../domain/units.ts";
import { MOSTLY, NEARLY_ALWAYS, OFTEN, SELDOM, SOMETIMES } from "./effect.ts";
import { does, type FaultEntry, type Knowledge, namedFaults, STARTER } from "./entry.ts";

type Lens = "zoom" | "focus";

interface LensNumbers {
  readonly railsDry: Probability;
  /** How often a lens out of line is seen in the picture: the focus makes it sharp, the zoom only follows. */
  readonly seenInPicture: Probability;
}

/** What goes wrong with a lens carriage: rails, carriage, drive. */
const carriage = (name: Lens, numbers: LensNumbers) => ({ ...railsOf(name, numbers), ...driveOf(name, numbers) });

const railsOf = (name: Lens, { railsDry, seenInPicture }: LensNumbers) =>
  ({
    "rails-dry": {
      title: `${name} rails dry or dirty`,
      prior: railsDry,
      when: "always",
      does: [does("drag", NEARLY_ALWAYS, "dry rails hold the carriage all the way")],
      found: { [`${name}-by-hand`]: 0.8 },
      cover: "head",
      module: name,
      part: `${name} rails`,
      tool: "lint-free pad, lubricant as the maker says",
      minutes: 20,
      remedy: "clean the rails, lubricate as the maker says",
      retest: [name],
      danger: "none",
    },
    "carriage-bent": {
      title: `${name} carriage or rod bent`,
      prior: 0.008,
      when: "always",
      does: [
        does("rub-at-a-place", NEARLY_ALWAYS, "at the bend the carriage jams"),
        does("bind-at-an-end", MOSTLY, "a bent rod binds most towards its end"),
        does("zero-shifted", OFTEN, "the lens stands beside its place"),
        does("soft-picture", seenInPicture, "the lens stands askew"),
      ],
      found: { [`${name}-rod`]: 0.9, [`${name}-by-hand`]: 0.6 },
      cover: "head",
      module: name,
      part: `${name} carriage or rod`,
      tool: "hex keys",
      minutes: 45,
      remedy: "replace the bent part",
      retest: [name],
      danger: "none",
    },
  }) satisfies Readonly<Record<string, FaultEntry>>;

const driveOf = (name: Lens, { seenInPicture }: LensNumbers) =>
  ({
    "belt-slack": {
      title: `${name} belt or spindle nut slack`,
      prior: 0.01,
      when: "always",
      does: [
        does("play", NEARLY_ALWAYS, "a slack belt or nut is play"),
        does("weight-wins", OFTEN, "the carriage hangs in the slack"),
        does("slip", SOMETIMES, "a slack belt jumps teeth"),
        does("soft-picture", seenInPicture, "the lens does not stay where it was made sharp"),
      ],
      found: { [`${name}-belt`]: 0.9 },
      cover: "head",
      module: name,
      part: `${name} belt or nut`,
      tool: "hex keys",
      minutes: 25,
      remedy: "set the tension or replace the nut",
      retest: [name],
      danger: "none",
    },
  }) satisfies Readonly<Record<string, FaultEntry>>;

export const FOCUS = {
  origin: STARTER,
  faults: namedFaults("focus", carriage("focus", { railsDry: 0.018, seenInPicture: OFTEN })),
} as const satisfies Knowledge;

export const ZOOM = {
  origin: STARTER,
  faults: {
    ...namedFaults("zoom", carriage("zoom", { railsDry: 0.02, seenInPicture: SOMETIMES })),
    "zoom-binds-warm": {
      title: "zoom binds when warm",
      prior: 0.01,
      when: "warm",
      does: [
        does("drag", MOSTLY, "bushings close on the rod as they warm"),
        does("bind-at-an-end", SOMETIMES, "the end near the lamp is the warmest"),
        does("weight-wins", SELDOM, "with its weight it moves, against it not"),
      ],
      found: { "zoom-by-hand": 0.2, "zoom-rod": 0.2 },
      cover: "head",
      module: "zoom",
      part: "zoom bushings",
      tool: "hex keys",
      minutes: 35,
      remedy: "replace the bushings, give clearance",
      retest: ["zoom"],
      danger: "none",
    },
  },
} as const satisfies Knowledge;
