import type { EventBody } from "../events/event.ts";
import type { InterfaceIdentity } from "../events/interface-met.ts";
import type { Stamped } from "../machine/input.ts";
import { cutOff, lineBack } from "../machine/interrupting.ts";
import { andThen, stay, uncleared, withEffects } from "../machine/running.ts";
import { type Change, courseOf, type SessionEffect, write } from "./change.ts";
import { askForDiagnosis } from "./diagnosing.ts";
import { end, goOn, towards } from "./flow.ts";
import { stepAt } from "./job.ts";
import { nextOf } from "./pausing.ts";
import type { Session, Stage, StageOf } from "./session.ts";

/** The run is opened in the journal, what the fixture lacks is marked, and the line is asked for. */
export const begin = (session: Session): Change => {
  const { job, view } = session;
  const opened = view.opened ? stay(session) : write(session, job.opening);
  const missing = job.timeline.steps.filter(
    ({ fitted, id }) => !fitted && !view.steps.find((one) => one.id === id)?.judged,
  );
  const marked = missing.reduce<Change>(
    (change, one) => andThen(change, (s) => write(s, notFitted(s, one.id))),
    opened,
  );
  return andThen(marked, (s) =>
    withEffects(
      { ...s, watchingSince: s.now, signs: [s.now], litSince: litBefore(s) },
      { kind: "open-line", patience: "once", known: s.view.interface },
    ),
  );
};

/** When the light came on before the run: a run without a power-up in its plan finds a fixture that is up and warm. */
const litBefore = ({ job, now }: Session): number | undefined =>
  job.timeline.steps.some(({ routine, fitted }) => routine === "power-up" && fitted)
    ? undefined
    : now - job.timeline.profile.lamp.warm;

const notFitted = ({ job }: Session, id: string): EventBody => ({
  kind: "step-judged",
  step: id,
  attempt: 1,
  result: "not-fitted",
  symptoms: [],
  note: "",
  watched: "no",
  lit_min: 0,
  attitude: job.bench.attitude,
  on_watch_min: 0,
  rig: { worst_late_s: 0, dropped: 0, lost: false },
});

/** Goes on when the line can be used: at the start the run begins, after a loss a person has to agree first. */
export const lineOpen = (session: Session): Change => {
  const { stage } = session;
  if (stage.kind === "opening") return goOn(session);
  if (stage.kind === "by-hand") return stay({ ...session, trouble: undefined });
  if (stage.kind !== "line-lost" || stage.back) return stay(session);
  return andThen(write(session, courseOf(session, stage.next, "line-back")), (s) => lineBack(s, stage));
};

/** Makes the run wait when its line is lost; the frame that was out is kept, so that it can go on from there. */
export const lineLost = (session: Session, words: string, frame: number): Change => {
  const { stage } = session;
  if (stage.kind === "finished" || stage.kind === "other-interface") return stay({ ...session, trouble: words });
  if (stage.kind === "line-lost")
    return stage.back ? waitForLine(session, { ...stage, words, back: false }) : stay({ ...session, trouble: words });
  if (stage.kind === "opening") return end({ ...session, trouble: words }, "failed");
  if (stage.kind === "by-hand") return lostMeanwhile(session, words);
  const next = nextOf(session, frame);
  return waitForLine(session, {
    kind: "line-lost",
    words,
    back: false,
    next: { ...next, lost: next.lost || stage.kind === "moving" },
    asked: isQuestion(stage) ? stage : undefined,
  });
};

/** Waits for the line, also where it came back and was lost again before anybody agreed. */
const waitForLine = (session: Session, stage: StageOf<"line-lost">): Change =>
  andThen(write(session, courseOf(session, stage.next, "line-lost", stage.words)), (s) =>
    andThen<Session, SessionEffect>(cutOff(s, stage, stage), (dark) =>
      withEffects(dark, { kind: "open-line", patience: "until-open", known: dark.view.interface }),
    ),
  );

/** Nothing moves, and what is open is about what has been. */
const isQuestion = ({ kind }: Stage): boolean =>
  ["asking", "confirming", "what-moved", "setting-found", "diagnosing", "placed", "what-next"].includes(kind);

/** The line was lost during work by hand: nothing moves, so the work goes on while the line is opened again; before anything moves again the area is asked about. */
const lostMeanwhile = (session: Session, words: string): Change =>
  withEffects(
    { ...uncleared(session), trouble: words },
    { kind: "open-line", patience: "until-open", known: session.view.interface },
  );

/** Goes on after a lost line is back: one person agrees, then slowly, then on from the same frame. */
export const endLoss = (session: Session, stage: StageOf<"line-lost">, input: Stamped): Change => {
  if (!stage.back || input.kind !== "confirm") return stay(session);
  return andThen(
    write({ ...session, trouble: undefined, cleared: true }, courseOf(session, stage.next, "resumed")),
    (s) => {
      if (stage.asked?.kind === "diagnosing") return askForDiagnosis(s, stage.asked.purpose);
      if (stage.asked) return stay({ ...s, stage: stage.asked });
      return isOver(s, stage.next.index) ? goOn(s) : towards(s, stage.next);
    },
  );
};

/** Nothing of it is to be gone on with: it was answered for, or homes by itself. */
const isOver = ({ job, view }: Session, index: number): boolean =>
  stepAt(job, index).routine === "power-up" || view.steps[index]?.judged !== undefined;

type Stranger = Extract<Stage, { kind: "other-interface" }>;

/** Stages that wait for the line, and the work by hand, which needs none: they go on when somebody has agreed. */
const WAITING: readonly Stage["kind"][] = ["opening", "line-lost", "by-hand"];

/** Asks a person when another interface answers than the one before; nothing is sent to it until then. */
export const strangerMet = (session: Session, input: Extract<Stamped, { kind: "stranger" }>): Change => {
  const { stage } = session;
  if (stage.kind === "other-interface") return askAbout(session, input, stage.before);
  if (WAITING.includes(stage.kind)) return askAbout(session, input, stage);
  const [lost, effects] = lineLost(session, input.words, input.frame);
  const still = effects.filter(({ kind }) => kind !== "open-line");
  return andThen([lost, still], (s) => askAbout(s, input, s.stage));
};

const askAbout = (
  session: Session,
  { words, identity }: { readonly words: string; readonly identity: InterfaceIdentity },
  before: Stage,
): Change =>
  withEffects(
    { ...uncleared(session), stage: { kind: "other-interface", words, identity, before } },
    { kind: "say", words: `Another interface is plugged in. ${words}` },
  );

/**
 * Takes the answer about another interface. Agreed: the line is opened to this one and no other; "again" looks once more
 * for the one before. What waited goes on by its own rules.
 */
export const agreeToStranger = (session: Session, { before, identity }: Stranger, input: Stamped): Change =>
  input.kind === "confirm" || input.kind === "again"
    ? withEffects(
        { ...session, stage: before },
        {
          kind: "open-line",
          patience: before.kind === "opening" ? "once" : "until-open",
          known: input.kind === "confirm" ? identity : session.view.interface,
        },
      )
    : stay(session);
