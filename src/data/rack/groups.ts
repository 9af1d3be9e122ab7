import type { Seconds } from "../../domain/units.ts";
import type { Start, StartPlan } from "./power.ts";
import type { GroupSize, RackFixture } from "./rack.ts";

/**
 * Fixtures that are watched together, as indices in the rack from 0: kind by kind, shelf by shelf, no more than the size
 * allows. None is alone where that can be helped: the odd one shows beside others of its kind. What is left of one kind is
 * watched with what is left of another where both together are not too many: each then plays its own steps.
 */
export const groupsOf = (fixtures: readonly RackFixture[], size: GroupSize): readonly (readonly number[])[] =>
  leftoversTogether(
    kindsIn(fixtures, [...fixtures.keys()]).flatMap((kind) =>
      filledUp(
        togetherBy(kind, (index) => fixtures[index]?.place.shelf).flatMap((shelf) => inLooks(shelf, size)),
        size.usual,
      ),
    ),
    size.usual,
  );

/** Cuts a list into parts of the usual size, or a few more each, evenly, where that makes one part less. */
export const inLooks = <T>(all: readonly T[], { usual, most }: GroupSize): readonly (readonly T[])[] => {
  const parts = Math.ceil(all.length / most);
  return inParts(all, parts < Math.ceil(all.length / usual) ? Math.ceil(all.length / parts) : usual);
};

/**
 * Sorts members of a rack by kind and mode. `members`, and each group that is returned, are indices in `fixtures` from 0.
 */
export const kindsIn = (fixtures: readonly RackFixture[], members: readonly number[]): readonly (readonly number[])[] =>
  togetherBy(members, (index) => fixtures[index]?.profile.name);

/** The largest first, each joined by the largest that still fits; groups come in the order of their first fixtures. */
const leftoversTogether = (groups: readonly (readonly number[])[], most: number): readonly (readonly number[])[] => {
  const waiting = groups.toSorted((a, b) => b.length - a.length);
  const joined: (readonly number[])[] = [];
  for (let next = waiting.shift(); next; next = waiting.shift()) {
    let group = next;
    for (let n = 0; n < waiting.length; ) {
      const other = waiting[n] ?? [];
      if (group.length + other.length > most) n += 1;
      else {
        group = [...group, ...other];
        waiting.splice(n, 1);
      }
    }
    joined.push(group);
  }
  return joined.toSorted((a, b) => Math.min(...a) - Math.min(...b));
};

/**
 * Cuts a list, in its order, into parts of at most `most`, a whole number from 1. A last one that would be alone gets
 * one of the part before it for company.
 */
export const inParts = <T>(all: readonly T[], most: number): readonly (readonly T[])[] => {
  const parts = Math.ceil(all.length / most);
  const company = most > 2 && parts > 1 && all.length % most === 1 ? 1 : 0;
  const start = (part: number) => part * most - (part === parts - 1 ? company : 0);
  return Array.from({ length: parts }, (_, part) =>
    all.slice(start(part), part === parts - 1 ? all.length : start(part + 1)),
  );
};

/** Those with the same key together, in the order in which keys and members first come. */
const togetherBy = <T>(all: readonly T[], key: (one: T) => unknown): readonly (readonly T[])[] =>
  [...new Set(all.map(key))].map((wanted) => all.filter((one) => key(one) === wanted));

/** What is left of one shelf goes with what is left of the next where both together are not too many. */
const filledUp = (parts: readonly (readonly number[])[], most: number): readonly (readonly number[])[] => {
  const groups: (readonly number[])[] = [];
  for (const part of parts) {
    const last = groups.at(-1);
    if (last && last.length + part.length <= most) groups[groups.length - 1] = [...last, ...part];
    else groups.push(part);
  }
  return groups;
};

/** Fixtures whose mains goes on at once, and who are then watched until they are up. */
export interface MainsStage {
  readonly fixtures: readonly RackFixture[];
  /** The least time after the stage before it that the circuits need. */
  readonly after: Seconds;
}

/**
 * The order of a start plan in as few stages as it allows, each watched to its end before the next: whoever may go on by
 * then goes on, whichever circuit it hangs on. Within a circuit nobody comes closer to those before it than in the plan.
 *
 * @param most how many fixtures have a key of their own on the screen, at least 1: no stage has more @param upIn how
 * long a fixture is watched until it is up
 */
export const stagesOf = (
  { starts, uncounted }: Pick<StartPlan, "starts" | "uncounted">,
  most: number,
  upIn: (fixture: RackFixture) => Seconds,
): readonly MainsStage[] => {
  const waiting = starts.flatMap(({ at, fixtures }) => fixtures.map((fixture) => ({ at, fixture })));
  const on: SwitchedOn[] = [];
  const stages: MainsStage[] = [];
  for (let before = 0, earliest = 0; waiting.length > 0; ) {
    const readyAt = waiting.map((one) => readyAfter(on, waiting, one));
    const now = Math.max(earliest, Math.min(...readyAt));
    const some = waiting.filter((_, index) => (readyAt[index] ?? now) <= now).slice(0, most);
    const wanted = Math.max(...some.map((one) => readyAfter(on, waiting, one)));
    stages.push({ fixtures: some.map(({ fixture }) => fixture), after: Math.max(0, wanted - before) });
    on.push(...some.map((one) => ({ ...one, since: now })));
    waiting.splice(0, waiting.length, ...waiting.filter((one) => !some.includes(one)));
    before = now;
    earliest = now + Math.max(...some.map(({ fixture }) => upIn(fixture)));
  }
  return [...stages, ...inParts(uncounted, most).map((fixtures) => ({ fixtures, after: 0 }))];
};

interface InPlan {
  readonly at: Start["at"];
  readonly fixture: RackFixture;
}
interface SwitchedOn extends InPlan {
  readonly since: Seconds;
}

/** When the plan's distance to everybody before it on its circuit is kept; never while one of these still waits. */
const readyAfter = (on: readonly SwitchedOn[], waiting: readonly InPlan[], one: InPlan): Seconds => {
  const before = ({ at, fixture }: InPlan): boolean => fixture.circuit === one.fixture.circuit && at < one.at;
  if (waiting.some(before)) return Number.POSITIVE_INFINITY;
  return Math.max(0, ...on.filter(before).map(({ at, since }) => since + one.at - at));
};
