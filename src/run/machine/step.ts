import { nameTrouble, writtenName } from "../../domain/problem/identity.ts";
import type { Frame, Seconds } from "../../domain/units.ts";
import type { CompiledStep } from "../../plan/timeline.ts";
import type { EventBody } from "../events/event.ts";
import { type InterfaceIdentity, isSameIdentity } from "../events/interface-met.ts";
import { withClearance } from "./clearance.ts";
import { type Commanded, commandedAt, commandedBy } from "./commanded.ts";
import type { FixtureTold, OnItsWay, PersonAnswer, Stamped } from "./input.ts";
import { type Halting, stoodStill } from "./interrupting.ts";
import {
  andThen,
  type Changed,
  type HowEnded,
  over,
  type Running,
  type SharedEffect,
  stay,
  withEffects,
} from "./running.ts";

type InputOf<Kind extends Stamped["kind"]> = Extract<Stamped, { readonly kind: Kind }>;
type HeardAnswer = Extract<Stamped, FixtureTold>;

/**
 * What becomes of an input, for a fixture that is looked at by itself (`session/step`) and for several that are watched
 * together (`batch/step`): this is what differs between the two, because their runs write other events. What is alike, and
 * who is asked in which order, stands in `routed` and nowhere else.
 */
export interface Reactions<State extends Running, Wanted> extends Halting<State, Wanted> {
  /** What was played and waits for its answer. */
  readonly unanswered: (state: State) => readonly { readonly end: Seconds }[];
  /** The run with another belief of where each fixture was commanded to stand; `tells` is what an effect tells this one. */
  readonly withCommanded: (
    state: State,
    change: (before: Commanded, tells: (effect: Wanted) => CompiledStep | "dark" | undefined) => Commanded,
  ) => State;
  /** The question that is open; undefined while none is. */
  readonly questionOf: (state: State) => string | undefined;
  readonly begin: (state: State) => Changed<State, Wanted>;
  readonly write: (state: State, body: EventBody) => Changed<State, Wanted>;
  /** So many events of a run are on disk. */
  readonly stored: (state: State, input: InputOf<"stored">) => State;
  readonly fixtureTold: (state: State, input: HeardAnswer) => Changed<State, Wanted>;
  /** The interface that was met last on the line of a universe. */
  readonly interfaceOn: (state: State, universe: number) => InterfaceIdentity | undefined;
  readonly lineLost: (state: State, input: InputOf<"line-lost">) => Changed<State, Wanted>;
  readonly lineOpen: (state: State, input: InputOf<"line-open">) => Changed<State, Wanted>;
  readonly strangerMet: (state: State, input: InputOf<"stranger">) => Changed<State, Wanted>;
  /** Keeps what nobody has answered yet, before the run halts or ends. */
  readonly leaving: (state: State, then: (state: State) => Changed<State, Wanted>) => Changed<State, Wanted>;
  /** Keeps at which frame the run is stopped; `by` is the name of a signal, or empty. */
  readonly stoppedAt: (state: State, frame: Frame, by: string) => Changed<State, Wanted>;
  readonly end: (state: State, how: HowEnded) => Changed<State, Wanted>;
  readonly played: (state: State, input: InputOf<"played">) => Changed<State, Wanted>;
  readonly diagnosed: (state: State, input: InputOf<"diagnosed">) => Changed<State, Wanted>;
  readonly signOfLife: (state: State) => State;
  /** An answer to the question that is open. */
  readonly answered: (state: State, input: PersonAnswer) => Changed<State, Wanted>;
  /** An answer to a question that is over. */
  readonly answeredLate: (state: State, input: PersonAnswer) => Changed<State, Wanted>;
  /** What was pressed a while ago, and came over the air. */
  readonly onItsWay: (
    state: State,
    input: InputOf<"press" | "differs">,
    way: OnItsWay & { readonly key: string },
  ) => Changed<State, Wanted>;
}

/** Who hears of an input, in any stage: the one way of the world's inputs into a run, of one fixture or of many. */
export const routed = <State extends Running, Wanted>(
  own: Reactions<State, Wanted | SharedEffect>,
  state: State,
  input: Stamped,
): Changed<State, Wanted | SharedEffect> => {
  switch (input.kind) {
    case "begin":
      return own.begin(state);
    case "stored":
      return stay(own.stored(state, input));
    case "journal-failed":
      return journalFailed(state, input.words);
    case "remark":
      return stay({ ...state, trouble: state.trouble ?? input.words });
    case "person":
      return stay(named(state, input.initials));
    case "fixture-said":
    case "sensors-followed":
    case "own-test-over":
      return own.fixtureTold(state, input);
    case "interface-met":
    case "line-lost":
    case "line-open":
    case "stranger":
      return aboutLine(own, state, input);
    case "stood-still":
      return own.leaving(state, (left) => stoodStill(left, input, own));
    case "stop":
    case "signal":
      return isOver(state) ? stay(state) : stopped(own, state, input);
    case "played":
      return input.answers === own.questionOf(state) ? own.played(state, input) : stay(state);
    case "diagnosed":
      return input.answers === own.questionOf(state) ? own.diagnosed(state, input) : stay(state);
    case "here":
      return stay(own.signOfLife(state));
    default:
      return said(own, own.signOfLife(state), input);
  }
};

const isOver = ({ stage }: Running): boolean => stage.kind === "finished";

/** Stops a run whose record may be lost: nothing more is judged, it goes dark, and says so. */
export const journalFailed = <State extends Running>(state: State, words: string): Changed<State, SharedEffect> => {
  const troubled: State = { ...state, trouble: words };
  return isOver(state)
    ? stay(troubled)
    : withEffects(over(troubled, "failed"), { kind: "go-dark" }, { kind: "say", words }, { kind: "end" });
};

/** Whoever works on it by these initials, unless nobody could read them. Two spellings of one person's initials are one person. */
const named = <State extends Running>(state: State, initials: string): State => {
  const trouble = nameTrouble(initials);
  return trouble === undefined
    ? { ...state, person: writtenName(initials) }
    : { ...state, trouble: `"${initials}" cannot be used: it ${trouble}.` };
};

const aboutLine = <State extends Running, Wanted>(
  own: Reactions<State, Wanted>,
  state: State,
  input: InputOf<"interface-met" | "line-lost" | "line-open" | "stranger">,
): Changed<State, Wanted> => {
  if (input.kind === "line-lost") return own.lineLost(state, input);
  if (input.kind === "interface-met") return interfaceMet(own, state, input);
  if (isOver(state)) return stay(state);
  return input.kind === "stranger" ? own.strangerMet(state, input) : own.lineOpen(state, input);
};

/** Keeps which interface is at the other end of a line, once and whenever it is another. */
const interfaceMet = <State extends Running, Wanted>(
  own: Reactions<State, Wanted>,
  state: State,
  { universe, identity }: InputOf<"interface-met">,
): Changed<State, Wanted> =>
  isSameIdentity(own.interfaceOn(state, universe), identity)
    ? stay(state)
    : own.write(state, { kind: "interface-met", universe, identity });

/** Dark where it stands, and the journal is told where. */
const stopped = <State extends Running, Wanted>(
  own: Reactions<State, Wanted>,
  state: State,
  input: InputOf<"stop" | "signal">,
): Changed<State, Wanted> => {
  const by = input.kind === "signal" ? input.name : "";
  return own.leaving(state, (left) => andThen(own.stoppedAt(left, input.frame, by), (s) => own.end(s, "stopped")));
};

/** An answer to a question that is over changes nothing; a press still belongs to what was being watched. */
const said = <State extends Running, Wanted>(
  own: Reactions<State, Wanted>,
  state: State,
  input: PersonAnswer,
): Changed<State, Wanted> => {
  if (input.way && (input.kind === "press" || input.kind === "differs")) return own.onItsWay(state, input, input.way);
  return input.answers === own.questionOf(state) ? own.answered(state, input) : own.answeredLate(state, input);
};

/**
 * One step of a run, whatever happens in it: before, the answer about the area lapses where it has to; before and after, it
 * is kept where every fixture was commanded to stand.
 */
export const stepped = <State extends Running, Wanted, Asked extends Wanted>(
  own: Reactions<State, Wanted>,
  before: State,
  input: Stamped,
  happened: (state: State) => Changed<State, Asked>,
): Changed<State, Asked> => {
  const isPlayed = input.kind === "played" && input.answers === own.questionOf(before);
  const out = isPlayed ? "the end" : input.unsent ? "nothing" : input.frame;
  const heard = own.withCommanded({ ...before, now: input.at }, (commanded) => commandedAt(commanded, out));
  const ends = own.unanswered(before).map(({ end }) => end);
  const [after, effects] = happened(withClearance(heard, ends.length > 0 ? Math.max(...ends) : undefined));
  const told = own.withCommanded(after, (was, tells) =>
    effects.reduce((now, one) => commandedBy(now, tells(one)), was),
  );
  return [told, effects];
};
