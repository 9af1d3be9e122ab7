import { fullRaw, type Profile, type Raw, rawOf, type Travel } from "../../data/profile/profile.ts";
import { whereabouts } from "../../diagnosis/places/assessment.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import { settingAfter } from "../../plan/compile.ts";
import { type ToAndFro, toAndFro } from "../../plan/slow-moves.ts";
import { standingAt } from "../machine/commanded.ts";
import type { Stamped } from "../machine/input.ts";
import { andThen, stay, withEffects } from "../machine/running.ts";
import { type Change, courseOf, write } from "./change.ts";
import { stepAt } from "./job.ts";
import { type Placed, questionOf, type Session, type Stage } from "./session.ts";

type AtSpot = Extract<Stage, { kind: "at-spot" }>;

/** The place to return to, as far as it is known; undefined where there is none, or where nobody has confirmed since a break that the area is clear. */
export const spotOf = ({ job, cleared }: Session, { function: id, assessment }: Placed): ToAndFro | undefined => {
  const travel = job.timeline.profile.functions.get(id);
  const place = whereabouts(assessment);
  if (!place || travel?.kind !== "travel" || !cleared) return undefined;
  const [low = 0, high = 0] = [place.low, place.high].map((value) => rawOf(travel, value)).sort((a, b) => a - b);
  return low < high ? { function: id, low, high, pass: PASS_S } : undefined;
};

const PASS_S = 2;

/** Sends the fixture slowly back to where it happened, to work to and fro there until a button ends it. */
export const returnToSpot = (session: Session, placed: Placed): Change => {
  const spot = spotOf(session, placed);
  if (!spot) return stay(session);
  return moveTo(session, placed, spot, standingIn(session, placed), "returned");
};

/** Takes a key while the fixture works at the fault position: a little to one side, faster, slower, or enough. */
export const answerAtSpot = (session: Session, stage: AtSpot, input: Stamped): Change => {
  const { placed, spot } = stage;
  const on = (next: ToAndFro) => moveTo(session, placed, next, standingIn(session, placed), "nudged");
  switch (input.kind) {
    case "nudge":
      return on(nudged(travelOf(session.job.timeline.profile, spot.function), spot, input.towards));
    case "slower":
      return on({ ...spot, pass: Math.min(SLOWEST_S, spot.pass * 1.5) });
    case "faster":
      return on({ ...spot, pass: spot.pass / 1.5 });
    case "press":
    case "again":
    case "confirm":
      return leaveSpot(session, placed);
    default:
      return stay(session);
  }
};

/** Where it was last commanded to stand. */
const standingIn = ({ job, commanded }: Session, { index }: Placed): ReadonlyMap<FunctionId, Raw> =>
  commanded.stands ? standingAt(commanded.stands) : settingAfter(stepAt(job, index));

/** Works on at the fault position, as long as somebody touches a key now and then. */
export const workedOn = (session: Session, stage: AtSpot): Change => {
  const { placed, spot, step } = stage;
  const alone = session.now - (session.signs.at(-1) ?? 0) > ALONE_S;
  return alone ? leaveSpot(session, placed) : moveTo(session, placed, spot, settingAfter(step), "stayed");
};

const ALONE_S = 60;
const SLOWEST_S = 20;

/** Moves the place by half its width, so that what lies at its edge comes to its middle; never beyond the travel. */
const nudged = (travel: Travel, spot: ToAndFro, towards: "low" | "high"): ToAndFro => {
  const wanted = Math.max(1, Math.round((spot.high - spot.low) / 2)) * (towards === "low" ? -1 : 1);
  const by = Math.min(fullRaw(travel) - spot.high, Math.max(-spot.low, wanted));
  return { ...spot, low: spot.low + by, high: spot.high + by };
};

const travelOf = (profile: Profile, id: FunctionId): Travel => {
  const spec = profile.functions.get(id);
  if (spec?.kind !== "travel") throw new Error(`Bug: ${id} has no travel to return to`);
  return spec;
};

const moveTo = (
  session: Session,
  placed: Placed,
  spot: ToAndFro,
  standing: ReadonlyMap<FunctionId, Raw>,
  why: "returned" | "nudged" | "stayed",
): Change => {
  const step = toAndFro(session.job.timeline.profile, standing, spot);
  const working: Session = { ...session, stage: { kind: "at-spot", placed, spot, step } };
  const told =
    why === "stayed"
      ? stay(working)
      : write(working, courseOf(working, { index: placed.index, frame: 0 }, why, inWords(spot)));
  return andThen(told, (s) => withEffects(s, { kind: "play", key: questionOf(s) ?? "", step, from: 0 }));
};

/** It stands still where it is, and what was found is shown again; whatever moves next begins slowly, as after every break. */
const leaveSpot = (session: Session, placed: Placed): Change =>
  withEffects({ ...session, stage: placed, slowShown: false }, { kind: "go-dark" });

const inWords = ({ function: id, low, high, pass }: ToAndFro): string =>
  `${id} ${low} to ${high}, ${Math.round(pass * 10) / 10} s one way`;
