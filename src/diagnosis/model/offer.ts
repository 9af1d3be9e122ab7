import type { FunctionId } from "../../domain/trade/functions.ts";
import type { CoverId } from "../../domain/trade/hold-points.ts";
import { type InspectionId, inspection } from "../../domain/trade/inspections.ts";
import type { MovingPart } from "./places.ts";
import { type PlayedTest, testedIn } from "./probe.ts";

/** One thing to do next. */
export type Offer = DrivenTest | HandLook;

/** A test that is driven, from among what tells the leading answers apart. */
export interface DrivenTest extends PlayedTest {
  readonly kind: "driven";
  readonly reason: string;
  /** Expected minutes until the fault is found or given up, when this is done first. */
  readonly expectedMinutes: number;
  /** Expected information about which of the leading answers it is. */
  readonly bits: number;
}

/** An inspection by hand. */
export interface HandLook {
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

/** What was reported, and what concerns it. */
interface Concern {
  /** Parts with a report that nothing explains: asked about first. */
  readonly asked: readonly MovingPart[];
  /** Parts on which something was reported; none where it was the fixture as a whole. */
  readonly reported: readonly MovingPart[];
  /** Inspections of seconds without which nobody drives it on. */
  readonly beforeDriving: ReadonlySet<InspectionId>;
  /** Tests of what was reported that promise less than is asked of others. */
  readonly again: () => readonly DrivenTest[];
}

/**
 * Fewest expected minutes first. The best inspection beside the menu is always among them, for whoever has the cover off
 * already, and so is the best for a part on which something was reported. What nothing explains is asked of its part, before anybody is sent to the
 * menu, or to other parts where the menu takes less. What would do harm when it is driven on is looked at before that.
 */
export function bestThree(all: readonly Offer[], { asked, reported, beforeDriving, again }: Concern): readonly Offer[] {
  const own = all.some(isAtPanel) && !all.some((offer) => concerns(offer, reported)) ? again() : [];
  const panelMinutes = Math.min(...all.filter(isAtPanel).map(({ expectedMinutes }) => expectedMinutes));
  const turn = (offer: Offer): number => {
    if (offer.kind === "inspection" && beforeDriving.has(offer.inspection)) return 0;
    if (offer.kind === "driven" && concerns(offer, asked)) return 1;
    if (asked.length === 0 || concerns(offer, reported)) return 2;
    return isAtPanel(offer) || (offer.kind === "driven" && offer.expectedMinutes >= panelMinutes) ? 3 : 2;
  };
  const sorted = unlike(
    [...all, ...own.slice(0, 1)].sort((a, b) => turn(a) - turn(b) || a.expectedMinutes - b.expectedMinutes),
  );
  const looks = sorted.filter(({ kind }) => kind === "inspection");
  const look = looks.find((offer) => !isAtPanel(offer)) ?? looks[0];
  const concerned = sorted.find((offer) => concerns(offer, reported));
  const first = new Set([look, concerned].filter((offer) => offer !== undefined));
  const best = new Set([...first, ...sorted.filter((offer) => !first.has(offer))].slice(0, OFFERS));
  return sorted.filter((offer) => best.has(offer));
}

/** Of tests under the same circumstance that tell the same, or move the same parts, the best: one done, it is asked anew. */
const unlike = (sorted: readonly Offer[]): readonly Offer[] =>
  sorted.filter((offer, at) => !sorted.slice(0, at).some((better) => isAlike(offer, better)));

const isAlike = (a: Offer, b: Offer): boolean =>
  a.kind === "driven" &&
  b.kind === "driven" &&
  a.under !== "as usual" &&
  a.under === b.under &&
  (a.reason === b.reason || isWithin(testedIn(a), testedIn(b)) || isWithin(testedIn(b), testedIn(a)));

const isWithin = (some: readonly FunctionId[], others: readonly FunctionId[]): boolean =>
  some.every((id) => others.includes(id));

const isAtPanel = (offer: Offer): boolean => offer.kind === "inspection" && offer.cover === "panel";

/** A test that moves one of these parts, or an inspection of its mechanism. */
const concerns = (offer: Offer, parts: readonly MovingPart[]): boolean =>
  offer.kind === "driven"
    ? isAbout(offer, parts)
    : parts.some(({ mechanism }) => inspection(offer.inspection).on === mechanism);

/** Whether a test is about one of these parts. */
export const isAbout = (test: Parameters<typeof testedIn>[0], parts: readonly MovingPart[]): boolean =>
  parts.some(({ functions }) => testedIn(test).some((id) => functions.includes(id)));
