import { keysOf } from "../../domain/keys.ts";
import { isAxisFunction } from "../../domain/trade/functions.ts";
import type { SymptomId } from "../../domain/trade/symptoms.ts";
import { type Degrees, FRAMES_PER_SECOND, type Frame } from "../../domain/units.ts";
import type { PartBuild } from "../build.ts";
import type { Comparison, Sounds } from "../scene.ts";
import { type Glance, keenOn, NOTHING, type Pair, Track } from "./eye.ts";
import { MoverEye } from "./mover-eye.ts";
import type { Memory } from "./rests.ts";

const MOVES = 0.05;

/** Eye and ear on one function for the length of a step. */
export class PartWatch {
  private readonly eye: MoverEye | LeafEye;
  private readonly ear = new Ear();
  private readonly angles = new SeenAngles();
  private readonly build: PartBuild;
  private readonly memory: Memory;

  constructor(build: PartBuild, memory: Memory) {
    this.build = build;
    this.memory = memory;
    this.eye = build.kind === "bands" ? new LeafEye() : new MoverEye(memory.rests(build.function));
  }

  /** What is heard in this frame, and whether something is seen; inside the head nothing is seen without light. */
  see(
    { scene, twin }: Comparison,
    light: "lit" | "dark",
  ): { readonly heard: readonly HeardSound[]; readonly there: boolean } {
    const mine = scene.parts.find((part) => part.function === this.build.function);
    const own = twin.parts.find((part) => part.function === this.build.function);
    if (!mine || !own) return { heard: [], there: false };
    const heard = this.ear.hear(mine.sounds, own.sounds);
    const visible = light === "lit" || isAxisFunction(mine.function);
    const there = visible && this.eye.see({ mine, twin: own, light, upright: twin.upright }).there;
    if (there || heard.length > 0) this.angles.faltered(twin.pan_deg);
    else if (Math.abs(own.speed) > MOVES) this.angles.moved(twin.pan_deg);
    return { heard, there };
  }

  /** Ends the step and says what was noticed of the part in all of it. */
  settle(): readonly SymptomId[] {
    const { function: id } = this.build;
    const seen = this.eye.settle();
    if (this.eye instanceof MoverEye) this.memory.keep(id, this.eye.places);
    const onlyThere = id !== "Pan" && this.angles.onlyThere && this.memory.hasWorkedWell(id);
    if (seen.length === 0 && this.angles.clean) this.memory.workedWell(id);
    return onlyThere ? [...seen, "at-angle"] : seen;
  }
}

/** So far out that one thinks of the cable. */
const FAR: Degrees = 120;
const TIMES = 2;

/** Whether something that acts up does so only with the head turned far to one side. */
class SeenAngles {
  private faulty: readonly Degrees[] = [];
  private goodBetween = false;

  /** Notes that it faltered with pan at this angle. */
  faltered(pan: Degrees): void {
    this.faulty = [...this.faulty, pan];
  }

  /** Notes that it moved well with pan at this angle. */
  moved(pan: Degrees): void {
    if (Math.abs(pan) < FAR) this.goodBetween = true;
  }

  /** It worked well, and not only far out. */
  get clean(): boolean {
    return this.goodBetween && this.faulty.length === 0;
  }

  get onlyThere(): boolean {
    const { faulty } = this;
    const oneSide = faulty.every((pan) => pan > FAR) || faulty.every((pan) => pan < -FAR);
    return faulty.length >= TIMES && oneSide;
  }
}

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
type HeardKind = keyof typeof HEARD_AS;
const KINDS = keysOf(HEARD_AS);

interface HeardSound {
  readonly symptom: SymptomId;
  readonly clear: number;
}

/** Hears what one part should not sound like; each sound once until it has been quiet for a while. */
class Ear {
  private readonly quiet = new Map<HeardKind, Frame>();

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

const RESTED: Frame = 8;
const LATE: Frame = 3;
const UNEVEN = 0.2;

/** Watches a blade or an arm that is either in the beam or out of it. */
export class LeafEye {
  private readonly mine = new Track();
  private readonly twin = new Track();
  private noted: readonly SymptomId[] = [];
  private late: Frame = 0;
  private beats: readonly number[] = [];
  private judged = true;

  /** What is noticed of the leaf in this frame, beside a sound twin. */
  see(pair: Pair): Glance {
    const { mine, twin } = pair;
    const keen = keenOn(twin, pair.light);
    const stood = this.twin.still > 0;
    this.mine.add(mine.at, keen.speed);
    this.twin.add(twin.at, keen.speed);
    if (twin.kind === "leaf" && twin.beating) return this.beating(Math.abs(mine.at - twin.at));
    this.beats = [];
    if (this.twin.still === 0 && stood) this.begin();
    if (Math.abs(mine.at - twin.at) > keen.place && this.twin.still > 0) this.late += 1;
    const rested = this.twin.still >= RESTED && (this.mine.still >= RESTED || this.late > 60);
    if (rested && !this.judged) return this.judge(pair, keen.place);
    return this.late === LATE && this.mine.still === 0 ? this.note("slow") : NOTHING;
  }

  /** Ends the step and says what was noticed in it; "slow" is dropped where something else was noticed too. */
  settle(): readonly SymptomId[] {
    return this.noted.length > 1 ? this.noted.filter((symptom) => symptom !== "slow") : this.noted;
  }

  private begin(): void {
    this.judged = false;
    this.late = 0;
  }

  private judge({ mine, twin }: Pair, keen: number): Glance {
    this.judged = true;
    const off = mine.at - twin.at;
    if (Math.abs(off) <= keen) return NOTHING;
    if (Math.abs(off) > 0.85) return this.note(twin.at < 0.5 && isShutter(twin.function) ? "hangs-closed" : "no-move");
    return this.note(isShutter(twin.function) && twin.at > 0.5 ? "leaks-light" : "half-in");
  }

  /** Over a whole second of beats, how much of the time it was on the wrong side. */
  private beating(apart: number): Glance {
    this.judged = true;
    this.beats = [...this.beats, apart].slice(-FRAMES_PER_SECOND);
    const wrong = this.beats.reduce((sum, value) => sum + value, 0) / FRAMES_PER_SECOND;
    if (this.beats.length < FRAMES_PER_SECOND || wrong < UNEVEN) return NOTHING;
    this.beats = [];
    return this.note("uneven-strobe");
  }

  private note(symptom: SymptomId): Glance {
    if (!this.noted.includes(symptom)) this.noted = [...this.noted, symptom];
    return { there: true, symptoms: [symptom] };
  }
}

const isShutter = (id: string): boolean => id.startsWith("Shutter");
