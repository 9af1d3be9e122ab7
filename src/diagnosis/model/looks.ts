import { entriesOf } from "../../domain/keys.ts";
import { COVERS, type CoverId } from "../../domain/trade/hold-points.ts";
import { type InspectionId, inspection } from "../../domain/trade/inspections.ts";
import type { Probability } from "../../domain/units.ts";
import type { Weighed } from "./evidence.ts";
import { type FaultId, isFault, type KnownFault, knownFault } from "./knowledge/faults.ts";
import { effectsOf, type LayeredFault } from "./layers.ts";
import type { NodeId } from "./node.ts";
import type { InspectionAnswer } from "./observation.ts";
import type { Showing } from "./showing.ts";

/** A fault and the inspection that finds it soonest among those not yet answered. */
export interface Suspect {
  readonly id: FaultId;
  readonly probability: Probability;
  readonly look: InspectionId;
  /** How surely the look tells it. */
  readonly told: Probability;
}

/** So unlikely that no look is worth its minutes. */
const NEGLIGIBLE: Probability = 0.001;

/**
 * The faults behind what was reported that some inspection can still find; before anything was reported, all of them. What
 * nothing speaks for waits for its turn among the routine wear points.
 */
export function suspectsOf(
  likely: Readonly<Record<string, Probability>>,
  { foreseen, evidence }: Weighed,
  answers: readonly InspectionAnswer[],
  opening: Opening,
): readonly Suspect[] {
  const answered = new Set(answers.filter(({ answer }) => answer !== "not-asked").map(({ inspection: id }) => id));
  const blamed = new Set(foreseen.faults.filter((fault) => canBringAny(fault, evidence.present)).map(({ id }) => id));
  return Object.entries(likely).flatMap(([id, probability]) => {
    if (!isFault(id) || probability < NEGLIGIBLE || (evidence.present.length > 0 && !blamed.has(id))) return [];
    const best = bestLook(knownFault(id), answered, opening);
    return best ? [{ id, probability, look: best.id, told: best.told }] : [];
  });
}

const canBringAny = (fault: LayeredFault, findings: readonly NodeId[]): boolean =>
  effectsOf(fault).some(({ probability, links }) =>
    findings.some((id) => probability * (links.get(id) ?? 0) >= BLAMED),
  );

/** A fault that shows a finding more seldom than this is not looked for because of it. Judgement. */
const BLAMED: Probability = 0.02;

/** The look that tells most in a minute, with what opening costs now; not what tells less than half as surely as another. */
function bestLook({ found }: KnownFault, answered: ReadonlySet<InspectionId>, opening: Opening) {
  const open = entriesOf(found)
    .map(([id, told]) => ({ id, told }))
    .filter(({ id }) => !answered.has(id));
  const surest = Math.max(0, ...open.map(({ told }) => told));
  const perMinute = ({ id, told }: (typeof open)[number]) =>
    told / (inspection(id).minutes + opening(inspection(id).cover));
  return open
    .filter(({ told }) => told >= surest / 2)
    .reduce<(typeof open)[number] | undefined>(
      (best, one) => (best && perMinute(best) >= perMinute(one) ? best : one),
      undefined,
    );
}

/**
 * The inspections that these suspects lead to, each with the chance that it finds its fault. `weigh` is a
 * factor on the weight of a suspect, 0 to 1.
 */
export function looksFor(suspects: readonly Suspect[], weigh: (id: FaultId) => number = () => 1): readonly Look[] {
  const chances = new Map<InspectionId, number>();
  for (const { id, probability, look, told } of suspects)
    chances.set(look, (chances.get(look) ?? 0) + probability * told * weigh(id));
  return [...chances].map(([id, probability]) => {
    const { minutes, cover } = inspection(id);
    return { id, probability, minutes, cover };
  });
}

/**
 * What opening a cover costs now, in minutes: nothing for what is open, and less for a
 * module when the head is open already.
 */
export const openingNow =
  (open: ReadonlySet<CoverId>): Opening =>
  (cover) => {
    if (open.has(cover as CoverId)) return 0;
    const spared = cover === "module" && open.has("head") ? COVERS.head.minutes : 0;
    return COVERS[cover as CoverId].minutes - spared;
  };

/** Something to look at: how likely the fault is there, how many minutes the look takes, behind which cover. */
export interface Look {
  readonly id: string;
  readonly probability: Probability;
  readonly minutes: number;
  readonly cover: string;
}

/** A cover with the minutes its opening takes, there and back; 0 for what is open already. */
export type Opening = (cover: string) => number;

/**
 * The order of inspections that finds a single fault in the fewest expected minutes: descending probability
 * per minute, where the opening of a cover is paid with the best run of inspections behind it (Heckerman,
 * Breese and Rommelse 1995; Sidney 1975).
 */
export const bestOrder = (looks: readonly Look[], opening: Opening): readonly Look[] =>
  blocksOf(looks, opening).flatMap((block) => block.looks);

/**
 * Expected minutes to the fault in this order, each opening paid when it is first needed; inspections are taken to be
 * certain. `imagined` is the weight of there being no fault at all, 0 or more; one may give up at any point, at the price
 * of `missed` minutes for a fault that goes out again. Weights need not add up to 1.
 */
export function expectedMinutesOrGivingUp(
  order: readonly Look[],
  opening: Opening,
  { imagined, missed }: { readonly imagined: number; readonly missed: number },
): number {
  const open = new Set<string>();
  const steps = order.map(({ probability, minutes, cover }) => {
    const cost = minutes + (open.has(cover) ? 0 : opening(cover));
    open.add(cover);
    return { probability, cost };
  });
  let left = 0;
  let minutes = 0;
  for (const { probability, cost } of steps.reverse()) {
    left += probability;
    minutes = Math.min(left * missed, (left + imagined) * cost + minutes);
  }
  return minutes;
}

/** Looks that are best done in one go. */
interface Block {
  readonly looks: readonly Look[];
  readonly probability: number;
  readonly minutes: number;
}

const blocksOf = (looks: readonly Look[], opening: Opening): readonly Block[] => {
  const covers = new Map<string, Look[]>();
  for (const look of looks) {
    const same = covers.get(look.cover);
    if (same) same.push(look);
    else covers.set(look.cover, [look]);
  }
  return [...covers].flatMap(([cover, same]) => behind(same, opening(cover))).sort((a, b) => worth(b) - worth(a));
};

/** The inspections behind one cover: first the run of them that pays for the opening best, then the rest one by one. */
function behind(looks: readonly Look[], opening: number): readonly Block[] {
  const sorted = looks.map(alone).sort((a, b) => worth(b) - worth(a));
  let run = { probability: 0, minutes: opening };
  let best = run;
  let length = 0;
  for (const [i, one] of sorted.entries()) {
    run = { probability: run.probability + one.probability, minutes: run.minutes + one.minutes };
    if (i > 0 && worth(run) <= worth(best)) continue;
    best = run;
    length = i + 1;
  }
  return [{ ...best, looks: sorted.slice(0, length).flatMap((one) => one.looks) }, ...sorted.slice(length)];
}

const alone = (look: Look): Block => ({ looks: [look], probability: look.probability, minutes: look.minutes });

const worth = ({ probability, minutes }: Omit<Block, "looks">): number => probability / minutes;

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
