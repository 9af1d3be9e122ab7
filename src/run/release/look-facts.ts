import { knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import { COVERS, type CoverId, OPENING } from "../../domain/trade/hold-points.ts";
import { type InspectionId, inspection } from "../../domain/trade/inspections.ts";
import { valueTrouble } from "../../domain/trade/readings.ts";
import type { BodyOf } from "../events/event.ts";
import { takenBackIn } from "../events/taken-back.ts";
import { eventsIn, type History, lastOf, type Moment, NEVER } from "./history.ts";

/** What an inspection said. A measurement of the earth answers the inspection of the same name; a look at it does not. */
export interface LookFact {
  readonly at: Moment;
  readonly answer: BodyOf<"inspected">["answer"];
}

/** The latest answer to every inspection that was answered. */
export const latestLooks = (history: History): ReadonlyMap<InspectionId, LookFact> =>
  new Map(looksIn(history).map(({ inspection: id, ...fact }) => [id, fact]));

/** Every answer to an inspection, in order; what was undone at once was never said. */
export const looksIn = (history: History): readonly (LookFact & { readonly inspection: InspectionId })[] => {
  const takenBack = takenBackIn(history);
  return history.flatMap(({ body }, at) => {
    if (takenBack.has(at)) return [];
    if (body.kind === "inspected") {
      const { inspection: id, answer } = body;
      return id === "earth-continuity" && answer === "good" ? [] : [{ inspection: id, at, answer }];
    }
    const answer = body.kind === "reading-taken" ? earthIn(body) : undefined;
    return answer ? [{ inspection: "earth-continuity" as const, at, answer }] : [];
  });
};

/** "Within" without a value that can be says nothing. */
const earthIn = (body: BodyOf<"reading-taken">): "good" | "bad" | undefined => {
  if (body.reading !== "earth-continuity" || body.verdict === "not-taken") return undefined;
  if (body.verdict === "outside") return "bad";
  return isMeasured(body) ? "good" : undefined;
};

/** Whether a measurement counts: its value can be, where it has one. */
export const isMeasured = ({ reading, value }: Pick<BodyOf<"reading-taken">, "reading" | "value">): boolean =>
  valueTrouble(reading, value) === undefined;

/** Whether it takes minutes to get behind this cover: nothing does outside and at the panel. */
export const isBehindCover = (cover: CoverId): boolean => COVERS[cover].minutes > 0;

/**
 * When a cover was off last: confirmed as taken off (also where that was undone), or inspected, or
 * repaired behind. NEVER when it stayed shut.
 */
export const openedAt = (history: History): Moment =>
  Math.max(
    NEVER,
    history.findLastIndex(({ body }) => body.kind === "hold-confirmed" && body.point === "cover-removed"),
    lastOf(
      history,
      "inspected",
      (look) => look.answer !== "not-asked" && isBehindCover(inspection(look.inspection).cover),
    ),
    lastOf(
      history,
      "repaired",
      (repair) => repair.what === "something-else" || isBehindCover(knownFault(repair.fault).cover),
    ),
  );

/** The hold points of opening that were not confirmed when something was done behind a cover at this moment; they lapse when power returns. */
export const unheldAt = (history: History, at: Moment): readonly (typeof OPENING)[number][] => {
  const before = history.slice(0, at);
  const powered = lastOf(before, "hold-confirmed", ({ point }) => point === "mains-on" || point === "covers-on");
  const confirmed = new Set(
    eventsIn(before, "hold-confirmed")
      .filter((one) => one.at > powered)
      .map(({ body }) => body.point),
  );
  return OPENING.filter((point) => !confirmed.has(point));
};
