import type { Stamped } from "../machine/input.ts";
import { andThen, stay, uncleared, withEffects } from "../machine/running.ts";
import { write as writeOwn } from "../session/change.ts";
import { play, played, press, pressOnItsWay, pressTooLate } from "../session/playing.ts";
import type { Session, Stage } from "../session/session.ts";
import { type Batch, memberAt, type RackNext, type RackStageOf } from "./batch.ts";
import { forEach, onToNext, type RackChange, write } from "./change.ts";
import { takeBreak } from "./pausing.ts";
import { leavingUnnamed, pressedAt } from "./which.ts";

/** All fixtures of a turn play one step, each as an attempt in its own run. */
export const playTogether = (batch: Batch, next: RackNext): RackChange => {
  const attempt = 1 + Math.max(0, ...next.members.map((index) => attemptsOf(batch, index, next.index)));
  const moving: RackStageOf<"moving"> = { kind: "moving", next, attempt, unclaimed: [], wanted: undefined };
  return forEach({ ...batch, stage: moving }, next.members, (session) =>
    play(session, { index: next.index, frame: 0, pace: 1, lost: false }),
  );
};

const attemptsOf = (batch: Batch, index: number, step: number): number =>
  memberAt(batch, index).session.view.steps[step]?.attempt ?? 0;

/**
 * Takes that a step has been played to its end. When the computer itself was late it
 * plays once more, before anybody is judged.
 */
export const afterPlaying = (
  batch: Batch,
  stage: RackStageOf<"moving">,
  input: Stamped & { readonly kind: "played" },
): RackChange => {
  const { next } = stage;
  const again = next.members.filter((index) => replays(memberAt(batch, index).session, input));
  const after = again.length > 0 ? { ...stage, next: { ...next, members: again }, attempt: stage.attempt + 1 } : stage;
  const change = forEach({ ...batch, stage: after }, next.members, (session) =>
    session.stage.kind === "moving" ? played(session, session.stage, input) : stay(session),
  );
  return again.length > 0 ? change : andThen(atEase(change, next.members), (b) => claimed(b, stage));
};

const replays = (session: Session, input: Stamped & { readonly kind: "played" }): boolean => {
  const { stage } = session;
  return stage.kind === "moving" && played(session, stage, input)[0].stage !== stage;
};

/** Between two steps a fixture's own session waits. */
const atEase = ([batch, effects]: RackChange, indexes: readonly number[]): RackChange => {
  const waiting: Stage = { kind: "opening" };
  const members = batch.members.map((member, index) =>
    indexes.includes(index) ? { ...member, session: { ...member.session, stage: waiting } } : member,
  );
  return [{ ...batch, members }, effects];
};

/** "One of them" is asked about before anything else moves. */
const claimed = (batch: Batch, stage: RackStageOf<"moving">): RackChange => {
  const { next, attempt, unclaimed: presses, wanted } = stage;
  if (presses.length === 0 && batch.plan.asks === "who-differs") return wanted ? takeBreak(batch) : onToNext(batch);
  return stay({ ...batch, stage: { kind: "which", next, attempt, presses, named: [], wanted } });
};

/**
 * Takes an input while a group moves: one key for each fixture, one for "one of them",
 * again, and a break when the step is over.
 */
export const whileMoving = (batch: Batch, stage: RackStageOf<"moving">, input: Stamped): RackChange => {
  switch (input.kind) {
    case "differs":
      return differs(batch, stage, input);
    case "undo-differs":
      return undoDiffers(batch, stage);
    case "press":
      return stay({ ...batch, stage: { ...stage, unclaimed: [...stage.unclaimed, pressedAt(batch, stage, input)] } });
    case "again":
      return leavingUnnamed(batch, (b) => playTogether(b, stage.next));
    case "away":
    case "freeze":
      return stay({ ...batch, stage: { ...stage, wanted: stage.wanted ? undefined : "break" } });
    default:
      return stay(batch);
  }
};

type Differs = Extract<Stamped, { kind: "differs" }>;

const differs = (batch: Batch, { next }: RackStageOf<"moving">, input: Differs): RackChange => {
  if (!next.members.includes(input.member)) return stay(batch);
  return forEach(batch, [input.member], (session) =>
    session.stage.kind === "moving" ? press(session, session.stage, { ...input, kind: "press" }) : stay(session),
  );
};

/** The latest press of this step, whoever it was for, is undone: another letter was meant. */
const undoDiffers = (batch: Batch, { next }: RackStageOf<"moving">): RackChange => {
  const latest = next.members
    .flatMap((member) => {
      const last = memberAt(batch, member).session.view.steps[next.index]?.presses.at(-1);
      return last ? [{ member, after: last.after }] : [];
    })
    .toSorted((a, b) => b.after - a.after)[0];
  if (!latest) return holdAll(batch, next);
  return forEach(batch, [latest.member], (session) => {
    const view = session.view.steps[next.index];
    return view ? writeOwn(session, { kind: "press-corrected", step: view.id, attempt: view.attempt }) : stay(session);
  });
};

/**
 * Stops a group that moves because the area is not clear after all: all dark, every axis holds, and the safety page
 * comes again before the step begins anew.
 */
export const holdAll = (batch: Batch, next: RackNext): RackChange => {
  const point = "before-moving";
  const held: Batch = { ...uncleared(batch), stage: { kind: "holding", point, next } };
  return leavingUnnamed(batch, (left) =>
    andThen(write({ ...held, record: left.record }, { kind: "hold-withdrawn", point }), (b) =>
      withEffects(b, { kind: "go-dark" }),
    ),
  );
};

/** Keeps a key that came when the step was just over: it still belongs to that step, unless it was judged meanwhile. */
export const differedTooLate = (batch: Batch, input: Differs): RackChange => {
  const last = batch.members[input.member]?.session.group.at(-1);
  if (!last) return stay(batch);
  return forEach(batch, [input.member], (session) => {
    const step = `${last.index}.${session.view.steps[last.index]?.attempt}`;
    return input.answers.endsWith(`.${step}`)
      ? pressTooLate(session, { ...input, kind: "press", answers: step })
      : stay(session);
  });
};

/**
 * Keeps the letter of a fixture that was touched on a phone while an earlier step was out;
 * the turn comes before a step's own key.
 */
export const differedOnItsWay = (batch: Batch, input: Differs, way: NonNullable<Differs["way"]>): RackChange => {
  const key = way.key.split(".").slice(1).join(".");
  return forEach(batch, [input.member], (session) =>
    pressOnItsWay(session, { ...input, kind: "press" }, { ...way, key }),
  );
};
