import { COVERS, type CoverId } from "../../domain/trade/hold-points.ts";
import { blocksPower, type InspectionId, inspection, wantsPower } from "../../domain/trade/inspections.ts";
import type { Probability } from "../../domain/units.ts";
import { certainOf, isSettled, withoutExplained } from "./certain.ts";
import type { CircumstanceId } from "./circumstances.ts";
import { evidenceFrom, fewEnough, type Weighed } from "./evidence.ts";
import { answering, infer, inferChance, inferNone } from "./infer.ts";
import { type FaultId, isFault } from "./knowledge/faults.ts";
import {
  bestOrder,
  looksFor,
  minutesAfter,
  minutesTo,
  type Opening,
  openingNow,
  quietness,
  type Search,
  type Suspect,
  searchAmong,
  suspectsOf,
} from "./looks.ts";
import type { InspectionAnswer, Observation } from "./observation.ts";
import { bestThree, type DrivenTest, type HandLook, isAbout, type Offer } from "./offer.ts";
import type { Fitted, MovingPart } from "./places.ts";
import { asPlayed, type Drivable, minutesOf, type Probe } from "./probe.ts";
import { probesFor } from "./probes.ts";
import { unexplainedBy, unexplainedIn } from "./reasons.ts";
import { type Learned, NOTHING_LEARNED } from "./shop.ts";
import { type Showing, showingsAfter } from "./showing.ts";
import { bitsOfLook, bitsOfTest, type Leading, leadingOf, sayFinds, sayTells } from "./telling.ts";
import { type TryOut, tryOuts } from "./try-outs.ts";

/** What to do next to find the fault in the fewest minutes. */
export type Advice =
  | { readonly kind: "offers"; readonly offers: readonly Offer[] }
  /** Claimed with `CONCLUSIVE`, and with `also` it explains all that was reported: mend it, or put the fixture by. */
  | { readonly kind: "settled"; readonly on: FaultId; readonly also: readonly FaultId[] }
  /** Nothing speaks for a fault: what this check could not show, and what would most likely bring something to light. */
  | {
      readonly kind: "nothing-found";
      readonly untried: readonly CircumstanceId[];
      readonly offers: readonly TryOut[];
    }
  /** Nothing that could be done or looked at would tell more. */
  | { readonly kind: "nothing-worth-asking" };

/** A driven test must promise this much to be worth interrupting for; a look this much about the leading answers, or the ranking would stay as it is. */
const WORTH_BITS = { test: 0.08, look: 0.01, again: 0.01 } as const;
/**
 * The best three of all driven tests and inspections: those with which the fault is expected to be found in the fewest
 * minutes, seconds and covers counted; asked again after each answer. A test that saves no minutes over inspecting at once
 * is not offered, nor with the mains off what wants power. `open` are the covers that are off now, "outside" where it is unplugged; `drivable` says what this fixture can be driven to on this bench.
 */
export function whatNext(
  fitted: readonly Fitted[],
  observations: readonly Observation[],
  answers: readonly InspectionAnswer[] = [],
  open: readonly CoverId[] = [],
  learned: Learned = NOTHING_LEARNED,
  drivable: Drivable = DRIVES_ANYTHING,
): Advice {
  const { weighed } = fewEnough(evidenceFrom(fitted, observations, answers, learned));
  const belief = infer(weighed.network, weighed.evidence);
  const { posteriors } = belief;
  const likely = answering(belief, weighed.evidence);
  const certain = certainOf(likely, learned);
  const puzzle = withoutExplained(weighed, certain);
  const [on, ...also] = certain;
  const isOver = isSettled(puzzle, certain, unexplainedBy(weighed, certain));
  if (isOver && on !== undefined) return { kind: "settled", on, also };
  const asked = partsOf(weighed, unexplainedIn(weighed, posteriors));
  const nothingFound = (): Advice => ({
    kind: "nothing-found",
    ...tryOuts(fitted, observations, weighed, posteriors, learned, drivable, asked),
  });
  if (isOver) return nothingFound();
  const opening = openingNow(new Set(open));
  const isOff = open.some((cover) => cover !== "panel");
  const suspects = suspectsOf(likely, puzzle, answers, opening).filter(({ id }) => !certain.includes(id));
  const imagined = imaginedIn(puzzle);
  const search = searchAmong(suspects, imagined, opening);
  const driving: Driving = {
    before: isOff ? STARTED_AGAIN : 0,
    after: searchAmong(suspects, imagined, openingNow(new Set())),
  };
  const leading = leadingOf(suspects, imagined);
  const showingsOf = showingsAfter(fitted, observations, weighed, learned, new Set(suspects.map(({ id }) => id)));
  const probes = probesFor(fitted, drivable, observations.at(-1)?.litMinutes ?? 0);
  const offered = (among: readonly Probe[], worth: "test" | "again"): readonly DrivenOffer[] =>
    among
      .flatMap((probe) => asTest(probe, showingsOf(probe), leading))
      .filter(({ bits }) => bits > WORTH_BITS[worth])
      .map((test) => ({ test, offer: offerTest(test, driving, leading) }))
      .filter(({ offer }) => worth === "again" || offer.expectedMinutes < search.now);
  const reported = partsOf(
    weighed,
    weighed.reported.map(({ finding }) => finding.id),
  );
  const driven = offered(probes, "test");
  const looks = offerLooks(search, leading, bestOf(driven)).filter((one) => !(isOff && wantsPower(one.inspection)));
  const offers = bestThree([...driven.map(({ offer }) => offer), ...looks], {
    asked,
    reported,
    beforeDriving: lookedAtBeforeDriving(suspects),
    again: () =>
      offered(
        probes.filter((probe) => isAbout(probe, reported)),
        "again",
      ).map(({ offer }) => offer),
  });
  if (offers.length > 0) return { kind: "offers", offers };
  return certain.length === 0 && isNothingLikeliest(likely, weighed)
    ? nothingFound()
    : { kind: "nothing-worth-asking" };
}

/** As likely as this it is not driven on. Judgement. */
const MAYBE_HARMED: Probability = 0.1;

/**
 * A lock that is driven against breaks something, and with water inside or a damaged plug nothing is switched on: what may be so, and is
 * looked at in a minute without opening. Common practice, no source.
 */
const lookedAtBeforeDriving = (suspects: readonly Suspect[]): ReadonlySet<InspectionId> =>
  new Set(
    suspects
      .filter(({ probability }) => probability >= MAYBE_HARMED)
      .map(({ look }) => look)
      .filter((look) => inspection(look).cover === "outside" && (look === "transport-locks" || blocksPower(look))),
  );

/** What was reported is worth nothing by itself: "nothing broken" is believed in more than any fault. */
const isNothingLikeliest = (likely: Readonly<Record<string, Probability>>, { network, evidence }: Weighed): boolean => {
  const none = inferNone(network, evidence);
  return Object.entries(likely).every(([id, probability]) => !isFault(id) || probability < none);
};

/** Nobody says what it can do: as if everything suited it, without leaning the head. */
const DRIVES_ANYTHING: Drivable = { canRun: () => true, leaning: undefined };

const partsOf = ({ findings }: Weighed, ids: readonly string[]): readonly MovingPart[] =>
  ids.flatMap((id) => {
    const place = findings.get(id)?.place;
    return place === undefined || place === "fixture" ? [] : [place];
  });

const imaginedIn = ({ network, evidence }: Weighed): Probability =>
  evidence.present.length > 0 ? inferChance(network, evidence) : inferNone(network, evidence);

/** The looks in their best order, each as if it were done first; none when giving up costs less. `tests` are the best that could follow. */
function offerLooks(search: Search, leading: readonly Leading[], tests: readonly TestAhead[]): readonly HandLook[] {
  const { suspects, imagined, opening } = search;
  const looks = looksFor(suspects);
  return bestOrder(looks, opening).flatMap((look): readonly HandLook[] => {
    const minutes = look.minutes + opening(look.cover);
    const rest = looks.filter(({ id }) => id !== look.id);
    const opened: Opening = (cover) => (cover === look.cover ? 0 : opening(cover));
    const byLooks = minutesTo(rest, opened, imagined) / search.whole;
    const id = look.id as InspectionId;
    const { cover } = inspection(id);
    const expectedMinutes =
      minutes +
      Math.min(byLooks, ...(COVERS[cover].minutes === 0 ? tests.map((one) => thenTest(id, one, search)) : []));
    const bits = bitsOfLook(leading, id);
    if (expectedMinutes >= search.givingUp || bits < WORTH_BITS.look) return [];
    const reason = sayFinds(suspects.filter((suspect) => suspect.look === id));
    return [{ kind: "inspection", inspection: id, cover, minutes, reason, expectedMinutes, bits }];
  });
}

/** How many tests are thought of that could follow an inspection. */
const THEN_TRIED = 3;
const bestOf = (driven: readonly DrivenOffer[]): readonly TestAhead[] =>
  driven
    .toSorted((a, b) => a.offer.expectedMinutes - b.offer.expectedMinutes)
    .slice(0, THEN_TRIED)
    .map(({ test }) => test);

/**
 * Expected minutes after an inspection that needs no opening, when a test follows where it finds nothing: what is likely and
 * told in a minute comes before the test, which is then mostly spared.
 */
function thenTest(look: InspectionId, { probe, showings }: TestAhead, { suspects, imagined, whole }: Search): number {
  const rest = searchAmong(
    suspects.filter((suspect) => suspect.look !== look),
    imagined,
    openingNow(new Set()),
  );
  const before = wantsPower(look) ? 0 : STARTED_AGAIN;
  return (rest.whole * (before + minutesOf([probe])) + minutesAfter(showings, rest)) / whole;
}

/** Unplugged or with covers off nothing moves: they are put back, mains is switched on and everything looks for home; minutes. Judgement. */
const STARTED_AGAIN = 2;

/** What a driven test costs before it begins, and the search after it, with all covers on. */
interface Driving {
  readonly before: number;
  readonly after: Search;
}

/** A test with all that may show in it; what has shown something already is not done again. */
interface TestAhead {
  readonly probe: Probe;
  readonly showings: readonly Showing[];
  readonly bits: number;
}

interface DrivenOffer {
  readonly test: TestAhead;
  readonly offer: DrivenTest;
}

const asTest = (
  probe: Probe,
  showings: readonly Showing[] | undefined,
  leading: readonly Leading[],
): readonly TestAhead[] => (showings ? [{ probe, showings, bits: bitsOfTest(leading, showings) }] : []);

/** A driven test, as if it were done first. */
const offerTest = (
  { probe, showings, bits }: TestAhead,
  { before, after }: Driving,
  leading: readonly Leading[],
): DrivenTest => ({
  kind: "driven",
  ...asPlayed(probe),
  reason: sayTells(leading, (id) => (id === "nothing-broken" ? 0 : 1 - quietness(showings, id))),
  expectedMinutes: before + minutesOf([probe]) + minutesAfter(showings, after) / after.whole,
  bits,
});
