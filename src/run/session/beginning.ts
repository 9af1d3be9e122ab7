import type { EventBody } from "../events/event.ts";
import { andThen, stay, withEffects } from "../machine/running.ts";
import { type Change, write } from "./change.ts";
import type { Session } from "./session.ts";

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
