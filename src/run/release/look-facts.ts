import { knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import { COVERS, type CoverId } from "../../domain/trade/covers.ts";
import { OPENING } from "../../domain/trade/hold-points.ts";
import { type InspectionId, inspection } from "../../domain/trade/inspections.ts";
import type { BodyOf } from "../events/event.ts";
import type { History } from "./history.ts";
import { eventsIn, lastOf, type Moment, NEVER } from "./moment.ts";

/** What a look by hand said last. A reading of the earth answers the look of the same name. */
export interface LookFact {
  readonly at: Moment;
  readonly answer: BodyOf<"inspected">["answer"];
}

/** The latest answer to every look that was answered. */
export const latestLooks = (history: History): ReadonlyMap<InspectionId, LookFact> =>
  new Map(looksIn(history).map(({ inspection: id, ...fact }) => [id, fact]));

/** Every answer in order. */
export const looksIn = (history: History): readonly (LookFact & { readonly inspection: InspectionId })[] =>
  history.flatMap(({ body }, at) => {
    if (body.kind === "inspected") return [{ inspection: body.inspection, at, answer: body.answer }];
    if (body.kind !== "reading-taken" || body.reading !== "earth-continuity" || body.verdict === "not-taken") return [];
    return [{ inspection: "earth-continuity" as const, at, answer: body.verdict === "within" ? "good" : "bad" }];
  });

export const isBehindCover = (cover: CoverId): boolean => COVERS[cover].minutes > 0;

/** When a cover was off last: confirmed as taken off, or looked, or mended behind. NEVER when it stayed shut. */
export const openedAt = (history: History): Moment =>
  Math.max(
    NEVER,
    lastOf(history, "hold-confirmed", ({ point }) => point === "cover-removed"),
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
