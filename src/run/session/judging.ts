import type { StepResult } from "../../domain/trade/routines.ts";
import type { Seconds } from "../../domain/units.ts";
import type { ReportedSymptom } from "../events/event.ts";
import { andThen } from "../machine/running.ts";
import { attemptAt, type Change, write } from "./change.ts";
import { stepAt } from "./job.ts";
import type { Played, Session } from "./session.ts";

/** Writes what came of a step, with everything about the circumstances that may matter to the fault. */
export const judgeStep = (
  session: Session,
  played: Played,
  result: StepResult,
  symptoms: readonly ReportedSymptom[],
  note: string,
  watched: "attended" | "confirmed" | "no",
): Change => {
  const { job, now, litSince, watchingSince } = session;
  const step = stepAt(job, played.index);
  return write(session, {
    kind: "step-judged",
    step: step.id,
    attempt: attemptAt(session, played.index),
    result,
    symptoms: [...symptoms],
    note,
    watched,
    lit_min: minutes(Math.max(0, now - (litSince ?? now))),
    attitude: job.bench.attitude,
    on_watch_min: minutes(Math.max(0, now - watchingSince)),
    rig: { worst_late_s: Math.max(0, played.rig.worstLate), dropped: played.rig.dropped, lost: played.lost },
  });
};

const minutes = (seconds: number): number => Math.round((seconds / 60) * 100) / 100;

/** The steps that were played in this group and have no answer yet. */
export const openIn = ({ group, view }: Session): readonly Played[] =>
  group.filter(({ index }) => view.steps[index]?.judged === undefined);

/** What somebody says of the time in which nothing was pressed. */
export type Watched = "there" | "not there";

export const MOST_SILENCE_S: Seconds = 60;

/** Silence counts as a pass only for what was watched: never more than a minute without a sign of life. */
export const judgeSilence = (session: Session, silent: readonly Played[], was: Watched): Change =>
  silent.reduce<Change>(
    (change, played) =>
      andThen(change, (s) =>
        was === "there" && longestSilence(s.signs, played) <= MOST_SILENCE_S
          ? judgeStep(s, played, "pass", [], "", "confirmed")
          : judgeStep(s, played, "not-watched", [], "", "no"),
      ),
    [session, []],
  );

/** The longest time without a sign of life that touches a step. */
export const longestSilence = (signs: readonly Seconds[], { start, end }: Pick<Played, "start" | "end">): Seconds => {
  const gaps = signs.slice(1).map((sign, index) => ({ from: signs[index] ?? 0, to: sign }));
  return Math.max(0, ...gaps.filter(({ from, to }) => from < end && to > start).map(({ from, to }) => to - from));
};

/** Watching wears off within half an hour; a rest is worth offering by now (Mackworth 1948, secondary). */
const LONG_WATCH_S: Seconds = 20 * 60;
/** How long without a sign of life counts as a rest. Judgement. */
const REST_S: Seconds = 5 * 60;

/** Notes that somebody touched a key: after a rest the watch begins anew. */
export const signOfLife = (session: Session): Session => {
  const { now, signs, watchingSince } = session;
  const rested = now - (signs.at(-1) ?? now) >= REST_S;
  return { ...session, signs: [...signs, now], watchingSince: rested ? now : watchingSince };
};

/** How long somebody has been watching without a rest; undefined while that is not too long. */
export const tooLongOnWatch = ({ now, watchingSince, stage }: Session): Seconds | undefined => {
  const watched = now - watchingSince;
  return watched >= LONG_WATCH_S && stage.kind !== "finished" ? watched : undefined;
};
