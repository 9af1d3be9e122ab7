import type { Seconds } from "../../domain/units.ts";
import { type Commanded, commandedAt, commandedBy } from "../machine/commanded.ts";
import type { RackInput, RackWorld, Timed } from "../machine/input.ts";
import { named, storedUpTo, troubled } from "../machine/interrupting.ts";
import { andThen, type Changed, journalFailed, stay, withClearance } from "../machine/running.ts";
import { fixtureSaid } from "../session/asked.ts";
import { type Change, write as writeOfOne } from "../session/change.ts";
import { stoppedAt } from "../session/pausing.ts";
import type { Session } from "../session/session.ts";
import { isItsOwn, toldApart, whileAlone } from "./alone.ts";
import { type Batch, type Member, type RackStage, rackQuestionOf } from "./batch.ts";
import { endRack, forEach, type RackChange, write } from "./change.ts";
import type { RackEffect, Spot } from "./effect.ts";
import { confirmForAll, lookAtAlone, onward } from "./flow.ts";
import {
  answerStranger,
  beginRack,
  endUniverseLoss,
  rackInterfaceMet,
  rackStrangerMet,
  universeLost,
  universeOpen,
} from "./line.ts";
import { inBreak, rackStoodStill } from "./pausing.ts";
import { answerPass } from "./silence.ts";
import { afterPlaying, differedOnItsWay, differedTooLate, holdAll, playTogether, whileMoving } from "./together.ts";
import { answerWhich, leavingUnnamed, pressAtQuestion, pressedJustBefore } from "./which.ts";

/**
 * All behaviour of a run, of one fixture or of many: what it becomes when something happens, and what it then wants of the
 * world. What concerns a fixture that is looked at alone goes to that fixture's own session; one fixture is a rack of one that
 * is always looked at alone.
 */
export const stepRack = (before: Batch, input: Timed<RackInput | RackWorld>): Changed<Batch, RackEffect> => {
  const members = before.members.map((member) => withCommanded(member, commandedAt(member.session.commanded, input)));
  const [after, effects] = settled(
    happened(withClearance({ ...before, members, now: input.at }, lastEnd(before)), input),
  );
  return [{ ...after, members: after.members.map((member) => told(member, effects)) }, effects];
};

/** When the last movement that waits for an answer came to its end. */
const lastEnd = ({ members }: Batch): Seconds | undefined => {
  const ends = members.flatMap(({ session }) => session.group.map(({ end: to }) => to));
  return ends.length > 0 ? Math.max(...ends) : undefined;
};

/** Goes on to whatever is due, for as long as a change asks for it. */
const settled = ([batch, effects]: RackChange): Changed<Batch, RackEffect> => {
  const wanted = effects.filter((effect) => effect.kind !== "go-on");
  return wanted.length === effects.length ? [batch, wanted] : andThen([batch, wanted], (b) => settled(onward(b)));
};

const withCommanded = (member: Member, commanded: Commanded | undefined): Member =>
  commanded === member.session.commanded ? member : { ...member, session: { ...member.session, commanded } };

/** What these effects tell a fixture: a step where it listens, or to hold; whoever has no part in what plays holds too. */
const told = (member: Member, effects: readonly RackEffect[]): Member =>
  withCommanded(
    member,
    effects.reduce((now, effect) => commandedBy(now, toldBy(effect, member.spot)), member.session.commanded),
  );

const toldBy = (effect: RackEffect, { universe, address }: Spot) => {
  if (effect.kind !== "play") return effect.kind === "go-dark" ? "dark" : undefined;
  const part = effect.parts.find(({ spots }) =>
    spots.some((spot) => spot.universe === universe && spot.address === address),
  );
  return part ? part.step : "dark";
};

const happened = (batch: Batch, input: Timed<RackInput | RackWorld>): RackChange =>
  batch.stage.kind === "alone" && isItsOwn(batch, batch.stage, input)
    ? whileAlone(batch, batch.stage, input)
    : ofSeveral(batch, input);

const ofSeveral = (batch: Batch, input: Timed<RackInput | RackWorld>): RackChange => {
  switch (input.kind) {
    case "begin":
      return beginRack(batch);
    case "stored":
      return stay(kept(batch, input.run, input.count));
    case "journal-failed":
      return journalFailed(batch, input.words);
    case "fixture-said":
    case "sensors-followed":
      return ofMember(batch, input.run, (session) =>
        input.kind === "fixture-said" ? fixtureSaid(session, input.body) : writeOfOne(session, input.body),
      );
    // Of a fixture alone, which is done with.
    case "own-test-over":
      return stay(batch);
    case "remark":
      return stay(troubled(batch, input.words));
    case "line-lost":
    case "line-open":
    case "interface-met":
    case "stranger":
      return aboutLine(batch, input);
    case "stood-still":
      return leavingUnnamed(batch, (b) => rackStoodStill(b, input.time));
    case "signal":
    case "stop":
      return batch.stage.kind === "finished" ? stay(batch) : stopped(batch, input);
    case "played":
      return input.answers === rackQuestionOf(batch) ? played(batch, input) : stay(batch);
    // Asked for by a fixture alone, which is done with.
    case "diagnosed":
      return stay(batch);
    case "person":
      return stay(named(batch, input.initials));
    default:
      return said(signOfLife(batch), input);
  }
};

const ofMember = (batch: Batch, run: string, change: (session: Session) => Change): RackChange => {
  const index = batch.members.findIndex((member) => member.run === run);
  return index < 0 ? stay(batch) : forEach(batch, [index], change);
};

const signOfLife = (batch: Batch): Batch => ({ ...batch, signs: [...batch.signs, batch.now] });

/** What is on disk, of the rack's own run or of a fixture's. */
const kept = (batch: Batch, run: string, count: number): Batch => {
  if (run === batch.plan.run) return storedUpTo(batch, count);
  const members = batch.members.map((member) =>
    member.run === run ? { ...member, session: storedUpTo(member.session, count) } : member,
  );
  return { ...batch, members };
};

type AboutLine = Extract<RackWorld, { kind: "line-lost" | "line-open" | "interface-met" | "stranger" }>;

const aboutLine = (batch: Batch, input: Timed<AboutLine>): RackChange => {
  switch (input.kind) {
    case "line-lost":
      return universeLost(batch, input);
    case "line-open":
      return universeOpen(batch, input.universe);
    case "interface-met":
      return rackInterfaceMet(batch, input);
    case "stranger":
      return rackStrangerMet(batch, input);
    default:
      return input satisfies never;
  }
};

/** What was pressed and not named, and in the run of each that moves how far it came, and where it stands. */
const stopped = (batch: Batch, input: Timed<Extract<RackInput, { kind: "stop" | "signal" }>>): RackChange => {
  const { stage } = batch;
  const by = input.kind === "signal" ? input.name : "";
  const moving = stage.kind === "moving" ? stage.next.members : [];
  return leavingUnnamed(batch, (left) =>
    andThen(
      forEach(left, moving, (session) => stoppedAt(session, input.frame, by)),
      (b) => endRack(b, "stopped"),
    ),
  );
};

const played = (batch: Batch, input: Timed<Extract<RackWorld, { kind: "played" }>>): RackChange => {
  const { stage } = batch;
  if (stage.kind === "slow-start") return playTogether({ ...batch, slowShown: true }, stage.next);
  return stage.kind === "moving" ? afterPlaying(batch, stage, input) : stay(batch);
};

type Said = Timed<Exclude<RackInput, { kind: "person" | "stop" | "signal" }>>;

const said = (batch: Batch, input: Said): RackChange => {
  if (input.kind === "here") return stay(batch);
  if (input.way && (input.kind === "press" || input.kind === "differs")) return onItsWay(batch, input, input.way);
  if (input.answers === rackQuestionOf(batch)) return atStage(batch, input);
  if (input.kind === "differs") return differedTooLate(batch, input);
  const { stage } = batch;
  return input.kind === "press" && stage.kind === "moving" ? whileMoving(batch, stage, input) : stay(batch);
};

/** What came over the air counts for the step that was out when it was pressed. */
const onItsWay = (
  batch: Batch,
  input: Timed<Extract<RackInput, { kind: "press" | "differs" }>>,
  way: NonNullable<Said["way"]>,
): RackChange => {
  const { stage } = batch;
  if (stage.kind === "alone") return stay(batch);
  if (stage.kind === "moving" && way.key === rackQuestionOf(batch)) return whileMoving(batch, stage, input);
  if (input.kind === "differs") return differedOnItsWay(batch, input, way);
  return stage.kind === "which" ? pressedJustBefore(batch, stage, input, way) : stay(batch);
};

const atStage = (batch: Batch, input: Exclude<Said, { kind: "here" }>): RackChange => {
  const { stage } = batch;
  switch (stage.kind) {
    case "moving":
      return whileMoving(batch, stage, input);
    case "which":
      return input.kind === "press" ? pressAtQuestion(batch) : answerWhich(batch, stage, input);
    case "holding":
      return answerHold(batch, stage, input);
    case "confirming":
      return input.kind === "press" ? pressAtQuestion(batch) : answerPass(batch, input);
    case "paused":
      return inBreak(batch, input);
    case "line-lost":
      return endUniverseLoss(batch, stage, input);
    case "other-interface":
      return answerStranger(batch, stage, input);
    case "between":
      return input.kind === "confirm" ? toSecondPass(batch, stage) : stay(batch);
    case "own-address":
      return toldApart(batch, stage, input);
    case "slow-start":
      return input.kind === "undo" ? holdAll(batch, stage.next) : stay(batch);
    case "alone":
    case "opening":
    case "finished":
      return stay(batch);
    default:
      return stage satisfies never;
  }
};

/** Before the mains goes on the answer about the area can still be undone. */
const answerHold = (
  batch: Batch,
  { point, next }: Extract<RackStage, { kind: "holding" }>,
  input: Said,
): RackChange => {
  if (input.kind === "confirm") return confirmForAll(batch, point, next);
  return input.kind === "undo" && point === "mains-on" ? holdAll(batch, next) : stay(batch);
};

const toSecondPass = (batch: Batch, { odd }: Extract<RackStage, { kind: "between" }>): RackChange =>
  andThen(write(batch, { kind: "rack-course", what: "second-pass", detail: String(odd.length) }), (b) =>
    lookAtAlone(b, odd[0] ?? 0),
  );
