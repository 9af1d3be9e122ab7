import type { Profile } from "../data/profile/profile.ts";
import { safeText } from "../domain/problem/shown-text.ts";
import { holdPointWords } from "../domain/trade/hold-points.ts";
import { sourceCaution } from "../domain/trade/mechanisms.ts";
import { spanInWords } from "../reports/status-words.ts";
import { type Batch, memberAt, type RackNext, type RackStageOf } from "../run/batch/batch.ts";
import { startsIn, turnOf } from "../run/batch/flow.ts";
import type { HoldPoint } from "../run/machine/clearance.ts";
import { stepAt, stepInWords } from "../run/session/job.ts";
import type { Session, StageOf } from "../run/session/session.ts";
import { personRows, undoWords } from "./foot-rows.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import type { AloneSight, Sight } from "./sight.ts";
import { type AroundList, BLANK, capital, type Line, marked, said, toAnswer } from "./view.ts";

/** The page of a hold point. The maker's manual and local rules go before these words; common practice, no source. */
export const holdingRows = (sight: AloneSight, { point, next }: StageOf<"holding">): readonly Line[] => {
  const { plan, session } = sight;
  const yes = keyWords(plan.own[point]);
  return [
    ...practiceRows(session),
    ...pointsInWords(session, point).map((words) => marked("- ", words)),
    BLANK,
    ...said(`Then: ${stepInWords(stepAt(session.job, next.index))}.`, "faint", 1),
    BLANK,
    ...toAnswer(
      said(
        point === "before-moving"
          ? `${yes}: all of this is confirmed.`
          : `${yes}: all of this is confirmed, and the mains goes on. Press it at that moment.`,
        "strong",
      ),
    ),
    ...said(`If not: ${anyOf(plan.stop)} stops it all.${undoWords(sight)}`),
    ...personRows(sight),
  ];
};

/** Light that is worse for people than bright light, each kind once. */
const sourceCautions = (profiles: readonly Profile[]): readonly string[] =>
  [...new Set(profiles.map(({ lamp }) => lamp.kind))]
    .filter((kind) => kind === "laser" || kind === "ultraviolet")
    .map(sourceCaution);

/** What is confirmed at a hold point, a line each. With the mains the fixture begins to move; before the first signal nobody knows where it stands. */
export const pointsInWords = (session: Session, point: HoldPoint): readonly string[] => {
  const { job, commanded } = session;
  const { profile } = job.timeline;
  return [
    holdPointWords("area-clear"),
    "pan and tilt transport locks off, plug and cord whole, fixture stands firm; if it hangs: safety bond on",
    "nobody looks into the lens; anybody whom flashing light could harm has been told",
    "stopping here is not an emergency stop: the mains isolator is",
    ...(point === "mains-on"
      ? [`it moves by itself as soon as it has power, for about ${spanInWords(profile.powerUp)}; then the light comes`]
      : []),
    ...(point === "mains-on" ? tooHotToStrike([session]) : []),
    ...sourceCautions([profile]),
    ...(point === "before-moving" && commanded.stands === undefined
      ? ["where it stands is not known: when the signal begins it may swing once, at a speed that nobody can foresee"]
      : []),
  ];
};

/** A lamp that was lit in the run and goes out hot does not strike again at once, which looks like a fault. Common practice, no source. */
const tooHotToStrike = (sessions: readonly Session[]): readonly string[] => {
  const lit = sessions.filter(({ view }) => view.steps.some(({ judged }) => (judged?.lit_min ?? 0) > 0));
  const wait = Math.max(0, ...lit.map(({ job }) => job.timeline.profile.lamp.restrike));
  if (wait === 0) return [];
  return [
    `a lamp that was lit may be too hot to strike for up to ${spanInWords(wait)}: let it cool before the mains goes on`,
  ];
};

/** What is said once at the beginning of a practice round. */
const practiceRows = ({ job, view }: Session): readonly Line[] => {
  if (!job.opening.simulated || view.confirmed.length > 0) return [];
  const words = "Practice: find out what is wrong with this fixture. The hidden fault is shown at the end.";
  return [...said(words, "strong", 1), BLANK];
};

/** The page while pan and tilt make the slow movement that comes before anything at full speed. */
export const slowRows = ({ plan, session }: AloneSight, { next }: StageOf<"slow-start">): readonly Line[] => [
  ...said("Pan and tilt move a little and back, slowly and dark, for 3 seconds, before anything moves at full speed."),
  BLANK,
  ...said("Stand clear.", "strong"),
  BLANK,
  ...said(`Then: ${stepInWords(stepAt(session.job, next.index))}.`),
  ...said(`Stop it all: ${anyOf(plan.stop)}. Area not clear: ${keyWords(plan.letters.undo)}.`),
];

/**
 * The page of a hold point for a whole group. The maker's manual and local rules go before
 * these words; common practice, no source.
 */
export const holdingOfAll = (sight: Sight, stage: RackStageOf<"holding">): AroundList =>
  stage.point === "mains-on" ? mainsOfAll(sight, stage) : clearOfAll(sight, stage);

const clearOfAll = (sight: Sight, { next }: RackStageOf<"holding">): AroundList => {
  const { batch, plan } = sight;
  return {
    above: [
      ...said(`${capital(safeText(turnOf(batch, next).name))}.`),
      ...said(`${capital(holdPointWords("area-clear"))}; that of all groups.`),
      ...said("Transport locks off, plugs and cords whole, rack and fixtures stand firm, safety bonds on."),
      ...said(
        "Nobody looks into a lens; anybody whom flashing light could harm has been told. Stopping here is no emergency stop: the mains isolator is.",
      ),
      ...sourceCautions(next.members.map((index) => memberAt(batch, index).spot.profile)).flatMap((words) =>
        said(words),
      ),
      ...said(unknownWords(batch, next)),
    ],
    below: toAnswer(
      said(
        `${keyWords(plan.own["before-moving"])}: all of this is confirmed. If not: ${anyOf(plan.stop)} stops it all.`,
        "strong",
      ),
    ),
  };
};

/** Nothing was sent to some of them in this run. */
const unknownWords = (batch: Batch, { members }: RackNext): string =>
  members.some((index) => memberAt(batch, index).session.commanded.stands === undefined)
    ? "Where they stand is not known: each may swing once, at any speed, when the signal begins."
    : "";

const mainsOfAll = (sight: Sight, { next }: RackStageOf<"holding">): AroundList => {
  const { batch, plan } = sight;
  const wait = startsIn(batch, next);
  const power = Math.max(...next.members.map((index) => memberAt(batch, index).spot.profile.powerUp));
  const serials = next.members.map((index) => safeText(memberAt(batch, index).serial)).join(", ");
  return {
    above: [
      ...said(`${serials}; the others stay as they are.`, "strong"),
      ...said(
        `Stand clear: they move by themselves as soon as they have power, about ${spanInWords(power)}, then the light comes.`,
      ),
      ...tooHotToStrike(next.members.map((index) => memberAt(batch, index).session)).flatMap((words) =>
        said(`${capital(words)}.`),
      ),
      ...said(wait > 0 ? `Wait ${spanInWords(wait)}: the circuit still starts the ones before.` : "", "alert"),
    ],
    below: [
      ...toAnswer(said(`${keyWords(plan.own["mains-on"])}: press it at the moment the mains goes on.`, "strong")),
      ...said(`Stop it all: ${anyOf(plan.stop)}.`),
    ],
  };
};

/** The page while a group makes the slow movement that comes before anything at full speed. */
export const slowOfAll = ({ batch, plan }: Sight, { next }: RackStageOf<"slow-start">): AroundList => ({
  above: [
    ...said(
      `${capital(safeText(turnOf(batch, next).name))}: pan and tilt move a little, slowly and dark, before anything moves at full speed.`,
    ),
    ...said("Stand clear.", "strong"),
  ],
  below: said(`Stop it all: ${anyOf(plan.stop)}. Area not clear: ${keyWords(plan.letters.undo)}.`),
});
