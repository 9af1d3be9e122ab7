import { COVERS, type CoverId } from "../../domain/trade/hold-points.ts";
import { type InspectionId, inspection } from "../../domain/trade/inspections.ts";
import type { Probability } from "../../domain/units.ts";
import { certainOf, isSettled, withoutExplained } from "./certain.ts";
import type { CircumstanceId } from "./circumstances.ts";
import { evidenceFrom, fewEnough, type Weighed } from "./evidence.ts";
import { infer, inferChance, inferNone } from "./infer.ts";
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
  searchAmong,
  suspectsOf,
} from "./looks.ts";
import type { InspectionAnswer, Observation } from "./observation.ts";
import type { Fitted, MovingPart } from "./places.ts";
import { asPlayed, type Drivable, minutesOf, type PlayedTest, type Probe, testedIn } from "./probe.ts";
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

export type Offer = DrivenTest | HandLook;

interface DrivenTest extends PlayedTest {
  readonly kind: "driven";
  readonly reason: string;
  /** Expected minutes until the fault is found or given up, when this is done first. */
  readonly expectedMinutes: number;
  /** Expected information about which of the leading answers it is. */
  readonly bits: number;
}

interface HandLook {
  readonly kind: "inspection";
  readonly inspection: InspectionId;
  readonly cover: CoverId;
  /** How long it takes, with the opening of its cover unless that is open. */
  readonly minutes: number;
  readonly reason: string;
  readonly expectedMinutes: number;
  readonly bits: number;
}

const OFFERS = 3;
/** A driven test must promise this much to be worth interrupting for; a look this much about the leading answers, or the ranking would stay as it is. */
const WORTH_BITS = { test: 0.08, look: 0.01, again: 0.01 } as const;
/**
 * The best three of all driven tests and inspections: those with which the fault is expected to be found in the fewest
 * minutes, seconds and covers counted; asked again after each answer. A test that saves no minutes over inspecting at once
 * is not offered. `open` are the covers that are off now; `drivable` says what this fixture can be driven to on this bench.
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
  const { posteriors } = infer(weighed.network, weighed.evidence);
  const certain = certainOf(posteriors, learned);
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
  const suspects = suspectsOf(posteriors, puzzle, answers).filter(({ id }) => !certain.includes(id));
  const imagined = imaginedIn(puzzle);
  const search = searchAmong(suspects, imagined, openingNow(new Set(open)));
  const driving = open.some((cover) => COVERS[cover].minutes > 0)
    ? { before: CLOSED_AND_STARTED, after: searchAmong(suspects, imagined, openingNow(new Set())) }
    : { before: 0, after: search };
  const leading = leadingOf(suspects, imagined);
  const showingsOf = showingsAfter(fitted, observations, weighed, learned, new Set(suspects.map(({ id }) => id)));
  const probes = probesFor(fitted, drivable, observations.at(-1)?.litMinutes ?? 0);
  const offered = (among: readonly Probe[], worth: "test" | "again") =>
    among.flatMap((probe) => offerTest(probe, showingsOf(probe), search, driving, leading, WORTH_BITS[worth]));
  const reported = partsOf(
    weighed,
    weighed.reported.map(({ finding }) => finding.id),
  );
  const ofReported = probes.filter((probe) => isAbout(probe, reported));
  const offers = bestThree([...offered(probes, "test"), ...offerLooks(search, leading)], {
    asked,
    reported,
    again: () => offered(ofReported, "again"),
  });
  if (offers.length > 0) return { kind: "offers", offers };
  return certain.length === 0 && isNothingLikeliest(posteriors, weighed)
    ? nothingFound()
    : { kind: "nothing-worth-asking" };
}

/** What was reported is worth nothing by itself: "nothing broken" is believed in more than any fault. */
const isNothingLikeliest = (
  posteriors: Readonly<Record<string, Probability>>,
  { network, evidence }: Weighed,
): boolean => {
  const none = inferNone(network, evidence);
  return Object.entries(posteriors).every(([id, probability]) => !isFault(id) || probability < none);
};

/** Nobody says what it can do: as if everything suited it, without leaning the head. */
const DRIVES_ANYTHING: Drivable = { canRun: () => true, leaning: undefined };

/** Parts on which something was reported, and what concerns them. */
interface Concern {
  /** With a report that nothing explains: asked about first. */
  readonly asked: readonly MovingPart[];
  readonly reported: readonly MovingPart[];
  /** Tests of what was reported that promise less than is asked of others. */
  readonly again: () => readonly DrivenTest[];
}

/**
 * Fewest expected minutes first; the best inspection is always among them, for whoever has the cover off already. What was
 * reported on a part is asked of that part, before anybody is sent to the menu for it.
 */
function bestThree(all: readonly Offer[], { asked, reported, again }: Concern): readonly Offer[] {
  const own = all.some(isAtPanel) && !all.some((offer) => concerns(offer, reported)) ? again() : [];
  const turn = (offer: Offer): number => {
    if (offer.kind === "driven" && concerns(offer, asked)) return 0;
    return concerns(offer, reported) || !isAtPanel(offer) ? 1 : 2;
  };
  const sorted = [...all, ...own.slice(0, 1)].sort(
    (a, b) => turn(a) - turn(b) || a.expectedMinutes - b.expectedMinutes,
  );
  const best = sorted.slice(0, OFFERS);
  const look = sorted.find(({ kind }) => kind === "inspection");
  const withLook = look && !best.includes(look) ? [...best.slice(0, OFFERS - 1), look] : best;
  const concerned = sorted.find((offer) => concerns(offer, reported));
  return !concerned || withLook.some((offer) => concerns(offer, reported))
    ? withLook
    : [concerned, ...withLook.slice(0, OFFERS - 1)];
}

const isAtPanel = (offer: Offer): boolean => offer.kind === "inspection" && offer.cover === "panel";

/** A test that moves one of these parts, or an inspection of its mechanism. */
const concerns = (offer: Offer, parts: readonly MovingPart[]): boolean =>
  offer.kind === "driven"
    ? isAbout(offer, parts)
    : parts.some(({ mechanism }) => inspection(offer.inspection).on === mechanism);

/** Whether a test is about one of these parts. */
const isAbout = (test: Parameters<typeof testedIn>[0], parts: readonly MovingPart[]): boolean =>
  parts.some(({ functions }) => testedIn(test).some((id) => functions.includes(id)));

const partsOf = ({ findings }: Weighed, ids: readonly string[]): readonly MovingPart[] =>
  ids.flatMap((id) => {
    const place = findings.get(id)?.place;
    return place === undefined || place === "fixture" ? [] : [place];
  });

const imaginedIn = ({ network, evidence }: Weighed): Probability =>
  evidence.present.length > 0 ? inferChance(network, evidence) : inferNone(network, evidence);

/** The looks in their best order, each as if it were done first; none when giving up costs less. */
function offerLooks(search: Search, leading: readonly Leading[]): readonly HandLook[] {
  const { suspects, imagined, opening } = search;
  const looks = looksFor(suspects);
  return bestOrder(looks, opening).flatMap((look): readonly HandLook[] => {
    const minutes = look.minutes + opening(look.cover);
    const rest = looks.filter(({ id }) => id !== look.id);
    const opened: Opening = (cover) => (cover === look.cover ? 0 : opening(cover));
    const expected = minutes + minutesTo(rest, opened, imagined) / search.whole;
    const id = look.id as InspectionId;
    const bits = bitsOfLook(leading, id);
    if (expected >= search.givingUp || bits < WORTH_BITS.look) return [];
    const reason = sayFinds(suspects.filter((suspect) => suspect.look === id));
    return [
      {
        kind: "inspection",
        inspection: id,
        cover: inspection(id).cover,
        minutes,
        reason,
        expectedMinutes: expected,
        bits,
      },
    ];
  });
}

/** With covers off nothing moves: they are put back, mains is switched on and everything looks for home; minutes. Judgement. */
const CLOSED_AND_STARTED = 2;

/** What a driven test costs before it begins, and the search after it, with all covers on. */
interface Driving {
  readonly before: number;
  readonly after: Search;
}

/** A driven test that tells enough about the leading answers to save more minutes than it costs; what has shown something already is not done again. */
function offerTest(
  probe: Probe,
  showings: readonly Showing[] | undefined,
  search: Search,
  driving: Driving,
  leading: readonly Leading[],
  worth: number,
): readonly DrivenTest[] {
  if (!showings) return [];
  const bits = bitsOfTest(leading, showings);
  if (bits <= worth) return [];
  const { before, after } = driving;
  const expectedMinutes = before + minutesOf([probe]) + minutesAfter(showings, after) / after.whole;
  if (expectedMinutes >= search.now && worth >= WORTH_BITS.test) return [];
  return [
    {
      kind: "driven",
      ...asPlayed(probe),
      reason: sayTells(leading, (id) => (id === "nothing-broken" ? 0 : 1 - quietness(showings, id))),
      expectedMinutes,
      bits,
    },
  ];
}
