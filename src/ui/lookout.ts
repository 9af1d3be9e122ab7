import { safeText } from "../domain/problem/shown-text.ts";
import { type FunctionId, functionWords } from "../domain/trade/functions.ts";
import type { Frame } from "../domain/units.ts";
import type { CompiledStep } from "../plan/timeline.ts";
import type { Spectacle } from "../run/ports.ts";

const LOOK_MS = 50;
/** Less than this is not seen: of the travel, or of a turn. */
const LEAST = 0.002;
/** The least that something must move over a whole step, as a share of its travel, to count. */
const LEAST_IN_ALL = 0.02;

interface WatchedTrack {
  readonly first: number;
  readonly last: number;
  readonly lowest: number;
  readonly highest: number;
  readonly words: readonly string[];
  readonly moves: boolean;
}

/** Eyes for whoever proves a profile on the simulated fixture: says when what is tried starts and stops, and afterwards all that moved. */
export class Lookout {
  private readonly spectacle: () => Spectacle;
  private readonly frame: () => Frame;
  private readonly say: (words: string) => void;
  private timer: NodeJS.Timeout | undefined;
  private tracks = new Map<FunctionId, WatchedTrack>();

  constructor(spectacle: () => Spectacle, frame: () => Frame, say: (words: string) => void) {
    this.spectacle = spectacle;
    this.frame = frame;
    this.say = say;
  }

  /** Looks at a step from now on; undefined ends it. What was seen is kept until the next one. */
  watch(step: CompiledStep | undefined): void {
    clearInterval(this.timer);
    this.timer = undefined;
    if (step === undefined) return;
    this.tracks = new Map();
    this.timer = setInterval(() => this.look(step), LOOK_MS);
  }

  /** Says what moved, from where to where: in words where it has some, else in shares of its travel, or of a turn. */
  report(): readonly string[] {
    const moved = [...this.tracks].filter(([, { lowest, highest }]) => highest - lowest >= LEAST_IN_ALL);
    if (moved.length === 0) return ["  SIMULATED fixture: nothing moved."];
    return moved.map(([id, track]) => `  SIMULATED fixture: ${functionWords(id)} moved, ${wayInWords(track)}.`);
  }

  private look(step: CompiledStep): void {
    if (this.frame() < beginOf(step)) return;
    for (const part of this.spectacle().parts) {
      const before = this.tracks.get(part.function);
      const moves = Math.abs(part.share - (before?.last ?? part.share)) >= LEAST;
      if (before && moves !== before.moves && isTimed(step) && step.functions.includes(part.function))
        this.say(`  ${moves ? "it moves" : "it stands still"}`);
      this.tracks.set(part.function, seen(before, part, moves));
    }
  }
}

/** Only there somebody presses when it stands still. */
const isTimed = ({ routine }: CompiledStep): boolean => routine === "in-and-out";

/** Before that everything goes to its start and the beam opens: none of it is what is tried. */
const beginOf = ({ moves, functions, leadIn }: CompiledStep): Frame =>
  moves.find((move) => functions.includes(move.function))?.start ?? leadIn;

const seen = (
  before: WatchedTrack | undefined,
  { share, words }: Spectacle["parts"][number],
  moves: boolean,
): WatchedTrack => ({
  first: before?.first ?? share,
  last: share,
  lowest: Math.min(before?.lowest ?? share, share),
  highest: Math.max(before?.highest ?? share, share),
  words: words === "" || before?.words.includes(words) ? (before?.words ?? []) : [...(before?.words ?? []), words],
  moves,
});

const wayInWords = ({ first, lowest, highest, words }: WatchedTrack): string => {
  const places = words.filter((one) => !one.startsWith("between "));
  if (places.length > 0) return places.map(safeText).join(", ");
  const percent = (share: number) => Math.round(share * 100);
  return `from ${percent(first)} %, between ${percent(lowest)} and ${percent(highest)} % of its travel or of a turn`;
};
