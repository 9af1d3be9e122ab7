import type { Buttons } from "../../data/bench/bench.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import { firstCharacters } from "../../domain/problem/writing.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import type { Frame, Seconds } from "../../domain/units.ts";
import { guardedBy } from "../../run/batch/guarded.ts";
import type { PhonePage, PhoneSaid, PhoneStrip } from "../../run/phone/message.ts";
import type { Spectacle } from "../../run/ports.ts";
import { READ_MS } from "../../run/session/fresh.ts";
import type { OnItsWay, WatcherInput } from "../../run/session/input.ts";
import { questionOf, type Session } from "../../run/session/session.ts";
import type { Choice } from "../choices.ts";
import { clearDesk, type Desk, type Drawn, deskFor } from "../desk.ts";
import { headline } from "../headline.ts";
import { type KeyPlan, keyPlan } from "../key-plan.ts";
import { markOf, stripsFor } from "../moving-rows.ts";
import { stepOf } from "../page-view.ts";
import { pressed } from "../pressing.ts";
import { look, type Seen } from "../seen.ts";
import type { Sight } from "../sight.ts";
import { ABOUT_LINE, capital } from "../view.ts";
import { linesOf } from "./lines.ts";
import { answersOf, fieldsOf, guardedWords } from "./offers.ts";
import { type PhoneAttends, type PhoneBody, PhonePages, type Touched } from "./pages.ts";

/** What the page on a phone needs to know of the bench. */
export interface PhoneOptions<Sees> {
  readonly buttons: Buttons;
  readonly frame: () => Frame;
  readonly spectacle: (() => Sees) | undefined;
  /** Milliseconds, as what is touched is stamped. */
  readonly now: () => number;
}

export const phoneAttendant = (options: PhoneOptions<Spectacle>): PhoneAttends<Session, WatcherInput> =>
  new PhoneAttendant(options);

/** Attends to one fixture's session from a phone: makes its page, and turns touches into the answers that keys would give. */
export class PhoneAttendant implements PhoneAttends<Session, WatcherInput> {
  private readonly options: PhoneOptions<Spectacle>;
  private readonly plan: KeyPlan;
  private readonly pages = new PhonePages<Moment>();
  private session: Session | undefined;
  private desk: Desk = clearDesk(undefined);
  private seen: Seen | undefined;

  constructor(options: PhoneOptions<Spectacle>) {
    this.options = options;
    this.plan = keyPlan(options.buttons);
  }

  show(session: Session): void {
    this.session = session;
    this.desk = deskFor(this.desk, questionOf(session));
  }

  page(): PhonePage | undefined {
    const { session, desk, plan } = this;
    if (!session) return undefined;
    const choices = answersOf(session, desk, plan);
    const drawn: Drawn = { session, question: questionOf(session) };
    return this.pages.put(
      { drawn, desk, choices },
      bodyOf(this.sight(session), choices),
      drawn.question,
      this.options.now(),
    );
  }

  hear(said: PhoneSaid, at: number): readonly WatcherInput[] {
    const page = this.pages.at(said.drawn);
    const { session } = this;
    if (!session) return [];
    if (said.kind === "here") return [HERE];
    // Stopping means what stands there now, whatever the phone still showed.
    if (said.kind === "stop") return this.keyed(this.plan.stop, { session, question: questionOf(session) });
    if (!page) return [HERE];
    const { drawn } = page.moment;
    if (said.kind === "press") return this.keyed(this.plan.press, drawn);
    if (said.kind === "again") return this.keyed(this.plan.again, drawn);
    if (at - page.since < READ_MS) return [HERE];
    return said.kind === "fill" ? filled(said, drawn) : this.answered(said, page.moment);
  }

  /** A photo was kept under this name. */
  photo(drawn: number, file: string): readonly WatcherInput[] {
    const question = this.pages.at(drawn)?.moment.drawn.question;
    return question === undefined ? [] : [{ kind: "photo", answers: question, file }];
  }

  /** Nobody at the phone can be heard any more: what moves stands still, as when somebody leaves. */
  gone(): readonly WatcherInput[] {
    const { session } = this;
    if (session?.stage.kind === "at-spot") return [{ kind: "confirm", answers: questionOf(session) ?? "" }];
    return session?.stage.kind === "moving" ? [{ kind: "away", answers: questionOf(session) ?? "" }] : [];
  }

  private answered(said: Touched, { drawn, desk, choices }: Moment): readonly WatcherInput[] {
    const guarded = guardedBy(drawn.session.stage);
    if (said.kind === "guarded") return guarded ? this.keyed([this.plan.own[guarded]], drawn) : [HERE];
    const choice = choices[said.choice];
    if (!choice) return [HERE];
    // What was touched stood on the list that was shown then.
    this.desk = desk;
    return choice.keys.flatMap((key) => this.keyed([key], drawn));
  }

  private keyed([key = ""]: readonly string[], drawn: Drawn): readonly WatcherInput[] {
    const [desk, inputs] = pressed({ ...this.desk, mark: undefined }, key, drawn, this.plan);
    this.desk = { ...desk, mark: undefined, entry: undefined };
    return inputs;
  }

  private sight(session: Session): Sight {
    const { spectacle, frame } = this.options;
    const at = this.options.now();
    if (spectacle) this.seen = look(this.seen, spectacle(), at);
    return {
      session,
      desk: this.desk,
      plan: this.plan,
      frame: frame(),
      seen: this.seen,
      at,
      quiet: 0,
      listening: true,
      refused: undefined,
      sincePress: Number.POSITIVE_INFINITY,
      notice: undefined,
      size: { columns: 80, rows: 24 },
      letters: "usual",
    };
  }
}

interface Moment {
  readonly drawn: Drawn;
  readonly desk: Desk;
  readonly choices: readonly Choice[];
}

const HERE: WatcherInput = { kind: "here" };

const FILLED = ["value", "part", "minutes", "initials"] as const;

const filled = ({ what, text }: Extract<PhoneSaid, { kind: "fill" }>, { question }: Drawn): readonly WatcherInput[] => {
  const answers = question ?? "";
  if (what === "person") return [{ kind: "person", initials: firstCharacters(text, 8) }];
  if (what === "note") return [{ kind: "note", answers, text }];
  const field = FILLED.find((one) => one === what);
  return field ? [{ kind: "filled", answers, what: field, text }] : [HERE];
};

/** All that the page shows of one fixture. */
const bodyOf = (sight: Sight, choices: readonly Choice[]): PhoneBody => {
  const { session } = sight;
  const { stage, job, trouble } = session;
  return {
    moving: ["moving", "slow-start", "stirring", "at-spot"].includes(stage.kind) ? "moves" : "stands",
    where: `${job.opening.simulated ? "SIMULATED " : ""}${safeText(job.opening.fixture.serial)}, ${safeText(job.timeline.profile.title)}`,
    step: stepOf(stage, job.timeline.steps.length),
    headline: capital(headline(sight).usual),
    lines: [
      ...(trouble && !ABOUT_LINE.includes(stage.kind) ? [{ text: safeText(trouble), look: "alert" } as const] : []),
      ...linesOf(sight),
    ],
    strips: stage.kind === "moving" ? stripsOf(sight) : [],
    ...buttonsOf(stage),
    guarded: safeText(guardedWords(session)),
    answers: choices.map(({ words }) => ({ words: capital(safeText(words)), look: "plain" })),
    fields: fieldsOf(session),
  };
};

/** Words on the three largest buttons; empty where there is nothing to press for. */
const buttonsOf = (stage: Session["stage"]): Pick<PhonePage, "press" | "again" | "stop"> => {
  switch (stage.kind) {
    case "moving":
      return { press: pressWords(stage.step.routine), again: "Once more", stop: "Stop it all" };
    case "at-spot":
      return { press: "", again: "", stop: "Stand still" };
    case "other-interface":
      return { press: "", again: "The right one is plugged in", stop: "Stop it all" };
    case "opening":
    case "finished":
      return { press: "", again: "", stop: "" };
    default:
      return { press: "", again: "", stop: "Stop it all" };
  }
};

/** A soak is not watched, and where it is timed a press says that it has arrived. */
const pressWords = (routine: RoutineId): string => {
  if (routine === "soak") return "";
  return routine === "stopwatch" ? "It is there" : "There: something is wrong";
};

const MOST_STRIPS = 4;
const stripsOf = (sight: Sight): readonly PhoneStrip[] => {
  const { stage } = sight.session;
  if (stage.kind !== "moving") return [];
  return stripsFor(sight, stage)
    .slice(0, MOST_STRIPS)
    .map((id) => {
      const { label, told, seen } = markOf(sight, stage, id);
      return { label, commanded: told.share, actual: seen?.share, words: seen?.words ?? told.words };
    });
};

/** What an input carries of how it came: a press was made when it was made, everything else counts when it is heard. */
export const wayOf = (input: { readonly kind: string }, ago: Seconds, give: Seconds): OnItsWay | undefined =>
  input.kind === "press" || input.kind === "differs" ? { ago, give } : undefined;
