import { groupsOf, inLooks, kindsIn, stagesOf } from "../../data/rack/groups.ts";
import type { Start } from "../../data/rack/power.ts";
import type { GroupSizes, RackFixture } from "../../data/rack/rack.ts";
import type { Sequence, Step } from "../../data/sequence/sequence.ts";
import { FUNCTIONS } from "../../domain/trade/functions.ts";
import type { MechanismId } from "../../domain/trade/mechanisms.ts";
import type { Seconds } from "../../domain/units.ts";

/** Fixtures that play steps together, watched by one pair of eyes. Steps are played in their order, all members at once. */
export interface Turn {
  /** "group 1 of 4: top left". */
  readonly name: string;
  /** "start" where the mains goes on first and the fixtures home. */
  readonly kind: "start" | "together";
  /** Silence is confirmed when a pass is over. */
  readonly pass: number;
  /** Places in the rack, from 0. */
  readonly members: readonly number[];
  /** Places in the sequence, from 0. */
  readonly steps: readonly number[];
  /** The least time after the start before it that the circuits need. */
  readonly after: Seconds;
}

/** What a rack run is made of. */
export interface Division {
  readonly fixtures: readonly RackFixture[];
  readonly sizes: GroupSizes;
  readonly sequence: Sequence;
  /** In which order the mains goes on; fixtures whose circuit nobody said come last. */
  readonly starts: readonly Start[];
  readonly uncounted: readonly RackFixture[];
  /** How long a fixture is watched after its mains has been switched on. */
  readonly upIn: (fixture: RackFixture) => Seconds;
}

/**
 * The order of a rack's run: the mains stage by stage where the sequence has a power-up;
 * then group by group through the sequence.
 */
export const turnsOf = (division: Division): readonly Turn[] => {
  const starts = startTurns(division);
  return [...starts, ...groupTurns(division, starts.length)];
};

/** No more at once than have a key of their own on the screen. */
const MOST_AT_ONCE = 12;

const startTurns = ({ fixtures, sequence, starts, uncounted, upIn }: Division): readonly Turn[] => {
  const step = sequence.steps.findIndex(({ routine }) => routine === "power-up");
  if (step < 0) return [];
  const stages = stagesOf({ starts, uncounted }, MOST_AT_ONCE, upIn);
  return stages.map(({ fixtures: some, after }, index) => ({
    name: `mains, ${index + 1} of ${stages.length}`,
    kind: "start",
    pass: index,
    members: some.map((one) => fixtures.indexOf(one)),
    steps: [step],
    after,
  }));
};

const groupTurns = ({ fixtures, sizes, sequence }: Division, firstPass: number): readonly Turn[] => {
  const groups = groupsOf(fixtures, sizes.broad);
  return groups.flatMap((members, index) => {
    const name = `group ${index + 1} of ${groups.length}: ${shelvesOf(fixtures, members)}`;
    return stretchesOf(sequence).flatMap(({ care, steps }) =>
      partsFor(fixtures, members, care, sizes).map(
        (some): Turn => ({
          name,
          kind: "together",
          pass: firstPass + index,
          members: some,
          steps,
          after: 0,
        }),
      ),
    );
  });
};

/** What is compared, or watched closely, is of one kind: beside another kind a difference says nothing. */
const partsFor = (
  fixtures: readonly RackFixture[],
  members: readonly number[],
  care: WatchedStretch["care"],
  sizes: GroupSizes,
): readonly (readonly number[])[] =>
  care === "broad"
    ? inLooks(members, sizes.broad)
    : kindsIn(fixtures, members).flatMap((kind) => inLooks(kind, care === "fine" ? sizes.fine : sizes.broad));

/**
 * One turn for each address by itself, for finding out which fixture really listens there; ganged ones are asked once.
 * `step` is the place in the sequence of the step that is played, from 0.
 */
export const identifyTurns = (fixtures: readonly RackFixture[], step: number): readonly Turn[] => {
  const asked = fixtures.flatMap(({ start, ganged }, index) => {
    const first = fixtures.findIndex(
      (one) => one.start?.universe === start?.universe && one.start?.slot === start?.slot,
    );
    return ganged && first !== index ? [] : [index];
  });
  return asked.map((member, index) => ({
    name: `address ${index + 1} of ${asked.length}`,
    kind: "together",
    pass: 0,
    members: [member],
    steps: [step],
    after: 0,
  }));
};

const shelvesOf = (fixtures: readonly RackFixture[], members: readonly number[]): string =>
  [...new Set(members.flatMap((index) => fixtures[index]?.place.shelf ?? []))].join(", ");

interface WatchedStretch {
  readonly care: "broad" | "fine" | "compared";
  readonly steps: readonly number[];
}

/** Steps in a row that as many fixtures can be watched at. */
const stretchesOf = ({ steps }: Sequence): readonly WatchedStretch[] => {
  const stretches: { readonly care: WatchedStretch["care"]; readonly steps: number[] }[] = [];
  for (const [index, step] of steps.entries()) {
    if (step.routine === "power-up") continue;
    const care = step.routine === "side-by-side" ? "compared" : careOf(step);
    const last = stretches.at(-1);
    if (last?.care === care) last.steps.push(index);
    else stretches.push({ care, steps: [index] });
  }
  return stretches;
};

/** Where a small thing in the picture tells the odd one: fewer at once than for movement and colour (common practice, no source). */
const FINE: readonly MechanismId[] = [
  "rotating-gobo-wheel",
  "fixed-gobo-wheel",
  "effect-wheel",
  "prism",
  "frost",
  "focus",
  "zoom",
  "iris",
  "framing-blades",
];

/** How closely a step must be watched. */
export const careOf = ({ functions }: Pick<Step, "functions">): "broad" | "fine" =>
  functions.some((id) => FINE.includes(FUNCTIONS[id].mechanism)) ? "fine" : "broad";
