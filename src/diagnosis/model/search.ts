import type { Probability } from "../../domain/units.ts";
import type { FaultId } from "./knowledge/faults.ts";
import { bestOrder, expectedMinutesOrGivingUp, type Look, looksFor, type Opening, type Suspect } from "./looks.ts";
import type { Showing } from "./showing.ts";

/** Who is looked for, what opening costs, and what the search costs as things stand; minutes. */
export interface Search {
  readonly suspects: readonly Suspect[];
  /** How likely it is that nothing is wrong. */
  readonly imagined: Probability;
  readonly opening: Opening;
  /** Weights of suspects and "nothing wrong" together. */
  readonly whole: number;
  /** Expected minutes by looks alone. */
  readonly now: number;
  /** Expected price of looking no further. */
  readonly givingUp: number;
}

/** A fault that goes out again costs about an hour. Starter value, judgement. */
const MISSED = 60;
/** Answers rarer than this are not told apart. */
const RARE: Probability = 0.002;

/**
 * A search by hand among suspects, before the first inspection. `imagined` is the weight of there being no fault at all;
 * `opening` gives the minutes to open a cover now, 0 for what is open.
 */
export function searchAmong(suspects: readonly Suspect[], imagined: Probability, opening: Opening): Search {
  const looks = looksFor(suspects);
  const found = looks.reduce((sum, { probability }) => sum + probability, 0);
  const whole = found + imagined;
  const now = minutesTo(looks, opening, imagined) / whole;
  return { suspects, imagined, opening, whole, now, givingUp: (found * MISSED) / whole };
}

/**
 * Expected minutes of these inspections in their best order, giving up allowed. `imagined` is the weight
 * of there being no fault at all, 0 to 1.
 */
export function minutesTo(looks: readonly Look[], opening: Opening, imagined: number): number {
  // What cannot find anything stands last in every order and costs nothing there: most looks, once something has shown.
  const finding = looks.filter(({ probability }) => probability > 0);
  return expectedMinutesOrGivingUp(bestOrder(finding, opening), opening, { imagined, missed: MISSED });
}

/** How likely a fault shows nothing in the test. */
export const quietness = (showings: readonly Showing[], id: FaultId): Probability =>
  showings.reduce((left, { by }) => left * (1 - (by.get(id) ?? 0)), 1);

/**
 * Expected minutes of inspecting, over every answer the test can give: the first symptom that shows, or none. As if there
 * were one fault, which is what the order of inspections supposes too; the ranking after the answer is exact again.
 */
export function minutesAfter(showings: readonly Showing[], search: Search): number {
  const telling = showings.filter((showing) => weightOf(showing, search) >= RARE * search.whole);
  const quiet = new Map(search.suspects.map(({ id }) => [id, quietness(telling, id)]));
  const all = new Map(
    search.suspects.map(({ id }) => [id, telling.reduce((sum, { by }) => sum + (by.get(id) ?? 0), 0)]),
  );
  const falsely = telling.reduce((sum, { imagined }) => sum + imagined, 0);
  const after = (weigh: (id: FaultId) => number, imagined: Probability) =>
    minutesTo(looksFor(search.suspects, weigh), search.opening, search.imagined * imagined);
  return telling.reduce(
    (sum, { by, imagined }) =>
      sum +
      after(
        (id) => ((1 - (quiet.get(id) ?? 1)) * (by.get(id) ?? 0)) / Math.max(all.get(id) ?? 0, Number.MIN_VALUE),
        imagined,
      ),
    after((id) => quiet.get(id) ?? 1, Math.max(0, 1 - falsely)),
  );
}

const weightOf = ({ by, imagined }: Showing, search: Search): number =>
  search.suspects.reduce(
    (sum, { id, probability }) => sum + probability * (by.get(id) ?? 0),
    search.imagined * imagined,
  );
