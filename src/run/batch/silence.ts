import type { Stamped } from "../machine/input.ts";
import { andThen, stay } from "../machine/running.ts";
import type { Change } from "../session/change.ts";
import { judgeSilence, judgeStep, openIn, type Watched } from "../session/judging.ts";
import type { Played, Session } from "../session/session.ts";
import { type Batch, memberAt } from "./batch.ts";
import { forEach, onToNext, type RackChange } from "./change.ts";
import { unanswered } from "./members.ts";
import { takeBreak } from "./pausing.ts";

/**
 * Asks when a pass is over: what was pressed is unsure until the fixture is looked at
 * alone; about silence a person is asked.
 */
export const askAboutPass = (batch: Batch): RackChange => {
  const marked = forEach(batch, unanswered(batch), (session) => pressedAreUnsure(session));
  return andThen(marked, (b) => {
    const silent = unanswered(b).filter((index) => silentIn(memberAt(b, index).session).length > 0);
    return silent.length > 0 ? stay({ ...b, stage: { kind: "confirming", members: silent } }) : onToNext(answered(b));
  });
};

const pressedAreUnsure = (session: Session): Change =>
  pressedIn(session).reduce<Change>(
    (change, played) => andThen(change, (s) => judgeStep(s, played, "unsure", [], "", "attended")),
    stay(session),
  );

/**
 * Takes the answer "I watched these", or all but some: silence counts as a pass, but never longer
 * than a minute without a sign of life.
 */
export const answerPass = (batch: Batch, input: Stamped): RackChange => {
  if (input.kind === "away") return takeBreak(batch);
  if (input.kind !== "confirm" && input.kind !== "confirm-but" && input.kind !== "decline") return stay(batch);
  const all = unanswered(batch);
  const unseen = input.kind === "decline" ? all : input.kind === "confirm-but" ? input.members : [];
  const judged = (was: Watched) => (session: Session) => judgeSilence(session, silentIn(session), was);
  const seen = forEach(
    batch,
    all.filter((index) => !unseen.includes(index)),
    judged("there"),
  );
  return andThen(seen, (b) =>
    andThen(
      forEach(
        b,
        all.filter((index) => unseen.includes(index)),
        judged("not there"),
      ),
      (after) => onToNext(answered(after)),
    ),
  );
};

/** Marks as not watched what was played in this pass and has no answer yet. */
export const notWatched = (session: Session): Change =>
  judgeSilence({ ...session, group: [] }, openIn(session), "not there");

const pressedIn = (session: Session): readonly Played[] => openIn(session).filter((one) => wasPressed(session, one));
const silentIn = (session: Session): readonly Played[] => openIn(session).filter((one) => !wasPressed(session, one));
const wasPressed = ({ view }: Session, { index }: Played): boolean => (view.steps[index]?.presses.length ?? 0) > 0;

/** Nothing waits for an answer any more: the next signs of life are those of the next pass. */
const answered = (batch: Batch): Batch => ({
  ...batch,
  signs: batch.signs.slice(-1),
  members: batch.members.map((member) => ({ ...member, session: { ...member.session, group: [] } })),
});
