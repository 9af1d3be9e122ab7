import { andThen, type Change } from "../session/change.ts";
import { longestSilence, MOST_SILENCE_S } from "../session/flow.ts";
import type { Timed } from "../session/input.ts";
import { judgeStep } from "../session/judging.ts";
import type { Played, Session } from "../session/session.ts";
import type { Batch, RackStage } from "./batch.ts";
import { forEach, goOn, type RackChange, stay } from "./change.ts";
import type { RackInput } from "./input.ts";
import { unanswered } from "./order.ts";
import { takeBreak } from "./pausing.ts";

type Watched = "there" | "not there";

/** A pass is over: what was pressed is unsure until the fixture is looked at alone; about silence a person is asked. */
export const askAboutPass = (batch: Batch): RackChange => {
  const marked = forEach(batch, unanswered(batch), (session) => judgeAll(session, pressedIn(session), () => "unsure"));
  return andThen(marked, (b) => {
    const silent = unanswered(b).filter((index) => silentIn(b.members[index]?.session).length > 0);
    return silent.length > 0 ? stay({ ...b, stage: { kind: "confirming", members: silent } }) : goOn(answered(b));
  });
};

/** "I watched these": silence counts as a pass, but never longer than a minute without a sign of life. */
export const answerSilence = (
  batch: Batch,
  _stage: Extract<RackStage, { kind: "confirming" }>,
  input: Timed<RackInput>,
): RackChange => {
  if (input.kind === "away") return takeBreak(batch);
  if (input.kind !== "confirm" && input.kind !== "decline") return stay(batch);
  return andThen(judgeSilence(batch, unanswered(batch), input.kind === "confirm" ? "there" : "not there"), (b) =>
    goOn(answered(b)),
  );
};

export const judgeSilence = (batch: Batch, members: readonly number[], was: Watched): RackChange =>
  forEach(batch, members, (session) =>
    judgeAll(session, silentIn(session), (played) =>
      was === "there" && longestSilence(batch.signs, played) <= MOST_SILENCE_S ? "pass" : "not-watched",
    ),
  );

const WATCHED = { pass: "confirmed", unsure: "attended", "not-watched": "no" } as const;

const judgeAll = (
  session: Session,
  steps: readonly Played[],
  result: (played: Played) => keyof typeof WATCHED,
): Change =>
  steps.reduce<Change>(
    (change, played) =>
      andThen(change, (s) => {
        const came = result(played);
        return judgeStep(s, played, came, [], "", WATCHED[came]);
      }),
    [session, []],
  );

/** What was played in this pass and has no answer yet. */
export const notWatched = (session: Session): Change =>
  judgeAll({ ...session, group: [] }, openIn(session), () => "not-watched");

const openIn = ({ group, view }: Session): readonly Played[] =>
  group.filter(({ index }) => view.steps[index]?.judged === undefined);
const wasPressed = ({ view }: Session, { index }: Played): boolean => (view.steps[index]?.presses.length ?? 0) > 0;
const pressedIn = (session: Session): readonly Played[] => openIn(session).filter((one) => wasPressed(session, one));
const silentIn = (session: Session | undefined): readonly Played[] =>
  session ? openIn(session).filter((one) => !wasPressed(session, one)) : [];

/** Nothing waits for an answer any more: the next signs of life are those of the next pass. */
const answered = (batch: Batch): Batch => ({
  ...batch,
  signs: batch.signs.slice(-1),
  members: batch.members.map((member) => ({ ...member, session: { ...member.session, group: [] } })),
});
