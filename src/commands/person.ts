import type { Bench } from "../bench/bench.ts";
import type { Spectacle, Voice } from "../ports.ts";
import { bad, good, problem, type Result } from "../problem/problem.ts";
import type { Screen, ScreenOptions } from "../screen/options.ts";
import type { Input } from "../session/input.ts";
import type { Session } from "../session/session.ts";

/** How a person takes part: what is drawn, and what is said aloud. */
export interface Person<State = Session, Told = Input> {
  readonly watcher: (frame: () => number) => Screen<State, Told>;
  readonly voice: Voice;
  close(): void;
}

export interface PersonOptions<Sees = Spectacle> {
  readonly bench: Bench;
  /** Sentence by sentence instead of a drawn page. */
  readonly plain: boolean;
  readonly distance: boolean;
  readonly spectacle: (() => Sees) | undefined;
}

/** True when somebody can read and answer here. */
export const hasTerminal = (): boolean => process.stdin.isTTY === true && process.stdout.isTTY === true;

/** The person at this terminal, before one fixture. */
export const personHere = (options: PersonOptions): Promise<Result<Person>> =>
  personBefore(options, {
    drawn: async () => (await import("../screen/screen.ts")).screen,
    plain: async () => (await import("../screen/plain.ts")).plainScreen,
  });

/** How a screen is opened, drawn or line by line; it and its packages are loaded only when it is wanted. */
interface Screens<State, Told, Sees> {
  readonly drawn: () => Promise<(options: ScreenOptions<Sees>) => Screen<State, Told>>;
  readonly plain: () => Promise<(options: ScreenOptions<Sees>) => Screen<State, Told>>;
}

/** The person at this terminal, before one fixture or a rack. */
export const personBefore = async <State, Told, Sees>(
  options: PersonOptions<Sees>,
  screens: Screens<State, Told, Sees>,
): Promise<Result<Person<State, Told>>> => {
  if (!options.plain && !hasTerminal())
    return bad(
      problem(
        "the screen",
        "there is no terminal here to watch and answer at",
        "--plain reads keys line by line; --watcher SEED lets the simulated watcher watch on --output sim",
      ),
    );
  const open = await (options.plain ? screens.plain() : screens.drawn());
  const { speech } = await import("../voice/speech.ts");
  let shown: Screen<State, Told> | undefined;
  const { bench, spectacle, distance } = options;
  const voice = speech({
    speaks: bench.voice,
    rings: bench.announce === "bell",
    stdout: process.stdout,
    trouble: (words) => shown?.notice(words),
  });
  const watcher = (frame: () => number): Screen<State, Told> => {
    const { stdin, stdout } = process;
    const colour = stdout.isTTY === true && !process.env["NO_COLOR"];
    shown = open({ buttons: bench.buttons, frame, spectacle, colour, distance, stdin, stdout });
    return shown;
  };
  return good({ watcher, voice, close: () => voice.close() });
};
