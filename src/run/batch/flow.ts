import type { Seconds } from "../../domain/units.ts";
import { dueBefore, type HoldPoint, holdConfirmed } from "../machine/clearance.ts";
import { andThen, stay, withEffects } from "../machine/running.ts";
import { slowStartOf } from "../session/flow.ts";
import { stepAt } from "../session/job.ts";
import { beginAlone, sharesAddress, tellApart } from "./alone.ts";
import { type Batch, memberAt, type RackNext } from "./batch.ts";
import { closeRuns, endRack, forEach, type RackChange, write } from "./change.ts";
import { askAboutStranger } from "./line.ts";
import { isOdd, nextTogether, takesPart, unanswered } from "./members.ts";
import { askAboutPass } from "./silence.ts";
import { playTogether } from "./together.ts";

/**
 * Goes on to whatever is due: another interface, what is asked when a pass is over, the next step of the
 * first pass, the odd ones alone, the end.
 */
export const onward = (batch: Batch): RackChange => {
  const [stranger] = batch.strangers;
  if (stranger) return askAboutStranger(batch, stranger);
  const next = nextTogether(batch);
  if (unanswered(batch).length > 0 && isPassOver(batch, next)) return askAboutPass(batch);
  return next ? towards(batch, next) : andThen(closeClean(batch), secondPass);
};

/** A pass lasts until all that belongs to it was watched; a long one is asked about in between. */
const isPassOver = (batch: Batch, next: RackNext | undefined): boolean =>
  next === undefined || turnOf(batch, next).pass !== batch.pass || watchedFor(batch) >= LONGEST_PASS_S;

/** A pass of the quick check fits into one; who watches longer has forgotten how it began. */
const LONGEST_PASS_S = 300;

const watchedFor = ({ members }: Batch): number =>
  Math.max(...members.map(({ session }) => session.group.reduce((sum, { start, end: to }) => sum + to - start, 0)));

/** The turn of the plan that a place in it belongs to. Throws "Bug: ..." where there is none. */
export const turnOf = ({ plan }: Batch, { turn }: RackNext) => {
  const found = plan.turns[turn];
  if (!found) throw new Error(`Bug: no turn ${turn}`);
  return found;
};

/** Towards a step: through the hold points and the slow movement where they are due. */
const towards = (before: Batch, next: RackNext): RackChange => {
  const { pass, kind, name } = turnOf(before, next);
  if (pass !== before.pass) return andThen(newPass(before, next, pass, name), (b) => towards(b, next));
  const due = dueBefore(before, kind === "start", 0);
  if (due === undefined) return playTogether(before, next);
  return due === "slow-start"
    ? slowStart(before, next)
    : stay({ ...before, stage: { kind: "holding", point: due, next } });
};

const newPass = (batch: Batch, { members }: RackNext, pass: number, group: string): RackChange => {
  const serials = members.map((index) => memberAt(batch, index).serial);
  return write({ ...batch, pass, slowShown: false }, { kind: "group-started", group, serials });
};

const slowStart = (batch: Batch, next: RackNext): RackChange => {
  const words = `${turnOf(batch, next).name}: slow movement first. Stand clear.`;
  return forEach({ ...batch, stage: { kind: "slow-start", next } }, next.members, (session) =>
    withEffects(session, { kind: "say", words }, { kind: "play", key: "", step: slowStartOf(session), from: 0 }),
  );
};

/** Whoever was watched at everything and did not differ is done. */
const closeClean = (batch: Batch): RackChange => {
  const clean = batch.members.flatMap((member, index) =>
    takesPart(member) && !isOdd(member) && member.session.view.steps.every(({ judged }) => judged) ? [index] : [],
  );
  return closeRuns(batch, clean, "finished");
};

/** The odd ones one after the other; before the first of them a person agrees. */
const secondPass = (batch: Batch): RackChange => {
  const odd = batch.members.flatMap((member, index) =>
    isOdd(member) && !batch.lost.includes(member.spot.universe) ? [index] : [],
  );
  const [first] = odd;
  if (first === undefined || batch.plan.asks === "who-moved")
    return endRack(batch, batch.members.some(takesPart) ? "stopped" : "finished");
  if (batch.stage.kind !== "alone")
    return withEffects({ ...batch, stage: { kind: "between", odd } }, { kind: "go-dark" });
  return lookAtAlone(batch, first);
};

/**
 * Looks at one fixture alone, after it was told apart from others with its address.
 * `member` is its index in the rack, from 0.
 */
export const lookAtAlone = (batch: Batch, member: number): RackChange =>
  sharesAddress(batch, member) ? tellApart(batch, member) : beginAlone(batch, member);

/**
 * Takes a hold point as confirmed, once for the whole group. They move by themselves as soon as they have power: where nobody
 * has touched a key for a minute at the page of the mains, the area is asked about again.
 */
export const confirmForAll = (batch: Batch, point: HoldPoint, next: RackNext): RackChange => {
  if (point === "mains-on" && !batch.cleared) return towards(batch, next);
  if (point === "mains-on" && startsIn(batch, next) > 0) return stay(batch);
  return andThen(holdConfirmed(batch, point, write), (b) =>
    point === "mains-on" ? mainsOn(b, next) : towards(b, next),
  );
};

const mainsOn = (batch: Batch, next: RackNext): RackChange => {
  const serials = next.members.map((index) => memberAt(batch, index).serial);
  const on: Batch = { ...batch, switchedAt: batch.now };
  return andThen(withEffects(on, { kind: "by-hand", deed: { kind: "mains-on", serials } }), (lit) =>
    playTogether(lit, next),
  );
};

/** How long the circuits still need before the next mains goes on; 0 when they are ready. */
export const startsIn = (batch: Batch, next: RackNext): Seconds =>
  batch.switchedAt === undefined ? 0 : Math.max(0, batch.switchedAt + turnOf(batch, next).after - batch.now);

/** The step that plays just now, in the words of its sequence. */
export const stepOf = (batch: Batch, { members, index }: RackNext) =>
  stepAt(memberAt(batch, members[0] ?? 0).session.job, index);
