import type { CoverId } from "../../domain/trade/covers.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import { type InspectionId, inspection } from "../../domain/trade/inspections.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import type { Probability, Seconds } from "../../domain/units.ts";
import { evidenceFrom, type Weighed } from "./evidence.ts";
import { infer, inferChance, inferNone } from "./infer.ts";
import type { FaultId } from "./knowledge/faults.ts";
import { looksFor, openingNow, suspectsOf } from "./looks.ts";
import type { Fitted } from "./network.ts";
import { sayFinds, sayTells } from "./next-words.ts";
import type { InspectionAnswer, Observation } from "./observation.ts";
import { bestOrder, type Opening } from "./order.ts";
import { type Probe, probesFor } from "./probes.ts";
import { minutesAfter, minutesTo, quietness, type Search, searchAmong } from "./search.ts";
import { type Learned, NOTHING_LEARNED } from "./shop.ts";
import { type Showing, showingsAfter } from "./showing.ts";
import { fewEnough } from "./telling.ts";

/** What to do next to find the fault in the fewest minutes. */
export type Advice =
  | { readonly kind: "offers"; readonly offers: readonly Offer[] }
  /** As good as certain, and with `also` it explains all that was reported: mend it, or put the fixture by. */
  | { readonly kind: "settled"; readonly on: FaultId | "nothing-broken"; readonly also: readonly FaultId[] }
  /** Nothing that could be done or looked at would tell more. */
  | { readonly kind: "nothing-worth-asking" };

export type Offer = DrivenTest | HandLook;

export interface DrivenTest {
  readonly kind: "driven";
  readonly routine: RoutineId;
  /** Without one the fixture moves as a whole. */
  readonly function: FunctionId | undefined;
  readonly seconds: Seconds;
  readonly reason: string;
  /** Expected minutes until the fault is found or given up, when this is done first. */
  readonly expectedMinutes: number;
}

export interface HandLook {
  readonly kind: "inspection";
  readonly inspection: InspectionId;
  readonly cover: CoverId;
  /** With the opening of its cover, unless that is open. */
  readonly minutes: number;
  readonly reason: string;
  readonly expectedMinutes: number;
}

const SETTLED: Probability = 0.9;
const OFFERS = 3;
/** A driven test must save this much to be worth interrupting for. */
const WORTH_MINUTES = 0.1;

/** The best three of all driven tests and looks by hand; asked again after each answer. `open`: covers that are off now. */
export function whatNext(
  fitted: readonly Fitted[],
  observations: readonly Observation[],
  answers: readonly InspectionAnswer[] = [],
  open: readonly CoverId[] = [],
  learned: Learned = NOTHING_LEARNED,
): Advice {
  const { weighed } = fewEnough(evidenceFrom(fitted, observations, answers, learned));
  const { posteriors } = infer(weighed.network, weighed.evidence);
  const certain = certainOf(posteriors);
  const puzzle = withoutExplained(weighed, certain);
  if (isSettled(puzzle, certain)) {
    const [on = "nothing-broken", ...also] = certain;
    return { kind: "settled", on, also };
  }
  const suspects = suspectsOf(posteriors, puzzle, answers).filter(({ id }) => !certain.includes(id));
  const search = searchAmong(suspects, imaginedIn(puzzle), openingNow(new Set(open)));
  const showingsOf = showingsAfter(fitted, observations, weighed, learned);
  const tests = probesFor(fitted).flatMap((probe) => offerTest(probe, showingsOf(probe), search));
  const offers = bestThree([...tests, ...offerLooks(search)]);
  return offers.length > 0 ? { kind: "offers", offers } : { kind: "nothing-worth-asking" };
}

/** Fewest minutes first; the best look by hand is always among them, for whoever has the cover off already. */
function bestThree(all: readonly Offer[]): readonly Offer[] {
  const sorted = [...all].sort((a, b) => a.expectedMinutes - b.expectedMinutes);
  const best = sorted.slice(0, OFFERS);
  const look = sorted.find(({ kind }) => kind === "inspection");
  return look && !best.includes(look) ? [...best.slice(0, OFFERS - 1), look] : best;
}

const imaginedIn = ({ network, evidence }: Weighed): Probability =>
  evidence.present.length > 0 ? inferChance(network, evidence) : inferNone(network, evidence);

const certainOf = (posteriors: Readonly<Record<string, Probability>>): readonly FaultId[] =>
  Object.entries(posteriors)
    .filter(([, probability]) => probability >= SETTLED)
    .sort(([, a], [, b]) => b - a)
    .map(([id]) => id as FaultId);

/** What the certain faults bring about is no puzzle any more. */
function withoutExplained(weighed: Weighed, certain: readonly FaultId[]): Weighed {
  const explained = new Set(
    weighed.network.symptoms.filter(({ links }) => certain.some((id) => (links[id] ?? 0) > 0)).map(({ id }) => id),
  );
  const present = weighed.evidence.present.filter((id) => !explained.has(id));
  return { ...weighed, evidence: { ...weighed.evidence, present } };
}

function isSettled({ network, evidence }: Weighed, certain: readonly FaultId[]): boolean {
  if (certain.length > 0) return evidence.present.length === 0;
  const none = inferNone(network, evidence);
  return none >= SETTLED || (evidence.present.length === 0 && none >= 0.5);
}

/** The looks in their best order, each as if it were done first; none when giving up costs less. */
function offerLooks(search: Search): readonly HandLook[] {
  const { suspects, imagined, opening } = search;
  const looks = looksFor(suspects);
  return bestOrder(looks, opening).flatMap((look): readonly HandLook[] => {
    const minutes = look.minutes + opening(look.cover);
    const rest = looks.filter(({ id }) => id !== look.id);
    const opened: Opening = (cover) => (cover === look.cover ? 0 : opening(cover));
    const expected = minutes + minutesTo(rest, opened, imagined) / search.whole;
    if (expected >= search.givingUp) return [];
    const id = look.id as InspectionId;
    const reason = sayFinds(suspects.filter((suspect) => suspect.look === id));
    return [
      { kind: "inspection", inspection: id, cover: inspection(id).cover, minutes, reason, expectedMinutes: expected },
    ];
  });
}

/** A driven test after which the looks by hand would cost less than now, by more than the test itself takes. */
function offerTest(probe: Probe, showings: readonly Showing[], search: Search): readonly DrivenTest[] {
  const minutes = probe.seconds / 60 + minutesAfter(showings, search) / search.whole;
  if (search.now - minutes < WORTH_MINUTES) return [];
  const shows = (id: FaultId) => 1 - quietness(showings, id);
  return [
    {
      kind: "driven",
      routine: probe.routine,
      function: probe.function,
      seconds: probe.seconds,
      reason: sayTells(search, shows),
      expectedMinutes: minutes,
    },
  ];
}
