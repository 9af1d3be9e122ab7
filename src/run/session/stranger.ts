import { type InterfaceIdentity, isSameIdentity } from "../events/interface-met.ts";
import { andThen, stay, uncleared, withEffects } from "../machine/running.ts";
import { type Change, write } from "./change.ts";
import type { Stamped } from "./input.ts";
import { lineLost } from "./interrupting.ts";
import type { Session, Stage } from "./session.ts";

/** Keeps with the run which interface is at the other end, once and whenever it is another. */
export const interfaceMet = (session: Session, identity: InterfaceIdentity): Change =>
  isSameIdentity(session.view.interface, identity)
    ? stay(session)
    : write(session, { kind: "interface-met", universe: session.job.opening.fixture.universe, identity });

type Stranger = Extract<Stage, { kind: "other-interface" }>;

/** Stages that wait for the line, and the work by hand, which needs none: they go on when somebody has agreed. */
const WAITING: readonly Stage["kind"][] = ["opening", "line-lost", "by-hand"];

/** Asks a person when another interface answers than the one before; nothing is sent to it until then. */
export const strangerMet = (session: Session, input: Extract<Stamped, { kind: "stranger" }>): Change => {
  const { stage } = session;
  if (stage.kind === "finished") return stay(session);
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
