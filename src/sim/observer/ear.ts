import { keysOf } from "../../domain/keys.ts";
import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { Frame } from "../../domain/units.ts";
import type { Sounds } from "../scene.ts";

/** How much louder than it should be before one hears it. */
const HEARD = 0.15;
/** A sound that comes again after this long a silence is heard anew. */
const FORGETS: Frame = 20;

const HEARD_AS = {
  scrape: "grinds",
  knock: "knocks",
  tick: "ticks",
  whine: "whines",
  rattle: "rattles",
} as const satisfies Partial<Record<keyof Sounds, SymptomId>>;
type Kind = keyof typeof HEARD_AS;
const KINDS = keysOf(HEARD_AS);

export interface HeardSound {
  readonly symptom: SymptomId;
  readonly clear: number;
}

/** Hears what one part should not sound like; each sound once until it has been quiet for a while. */
export class Ear {
  private readonly quiet = new Map<Kind, Frame>();

  /** What is heard in this frame that should not be: `mine` beside what a sound twin sounds like. */
  hear(mine: Sounds, twin: Sounds): readonly HeardSound[] {
    return KINDS.flatMap((kind) => {
      const louder = mine[kind] - twin[kind];
      const quiet = this.quiet.get(kind) ?? FORGETS;
      this.quiet.set(kind, louder > HEARD ? 0 : quiet + 1);
      return louder > HEARD && quiet >= FORGETS ? [{ symptom: HEARD_AS[kind], clear: louder / HEARD }] : [];
    });
  }
}
