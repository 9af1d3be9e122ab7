import type { Bench } from "../bench/bench.ts";
import type { Spectacle, Voice } from "../ports.ts";
import { bad, good, problem, type Result } from "../problem/problem.ts";
import type { Screen } from "../screen/options.ts";

/** How a person takes part: what is drawn, and what is said aloud. */
export interface Person {
  readonly watcher: (frame: () => number) => Screen;
  readonly voice: Voice;
  close(): void;
}

export interface PersonOptions {
  readonly bench: Bench;
  /** Sentence by sentence instead of a drawn page. */
  readonly plain: boolean;
  readonly distance: boolean;
  readonly spectacle: (() => Spectacle) | undefined;
}

/** True when somebody can read and answer here. */
export const hasTerminal = (): boolean => process.stdin.isTTY === true && process.stdout.isTTY === true;

/** The person at this terminal; the screen and its packages are loaded only when it is wanted. */
export const personHere = async (options: PersonOptions): Promise<Result<Person>> => {
  if (!options.plain && !hasTerminal())
    return bad(
      problem(
        "the screen",
        "there is no terminal here to watch and answer at",
        "--plain reads keys line by line; --watcher SEED lets the simulated watcher watch on --output sim",
      ),
    );
  const { screen } = options.plain ? { screen: undefined } : await import("../screen/screen.ts");
  const { plainScreen } = options.plain ? await import("../screen/plain.ts") : { plainScreen: undefined };
  const { speech } = await import("../voice/speech.ts");
  let shown: Screen | undefined;
  const voice = speech({
    speaks: options.bench.voice,
    rings: options.bench.announce === "bell",
    stdout: process.stdout,
    trouble: (words) => shown?.notice(words),
  });
  const open = (frame: () => number): Screen => {
    const { stdin, stdout } = process;
    const colour = stdout.isTTY === true && !process.env["NO_COLOR"];
    const settings = {
      buttons: options.bench.buttons,
      frame,
      spectacle: options.spectacle,
      colour,
      distance: options.distance,
      stdin,
      stdout,
    };
    const made = screen?.(settings) ?? plainScreen?.(settings);
    if (!made) throw new Error("Bug: neither a screen nor a plain one");
    shown = made;
    return made;
  };
  return good({ watcher: open, voice, close: () => voice.close() });
};
