import { isAxisFunction } from "../../domain/trade/functions.ts";
import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { Frame } from "../../domain/units.ts";
import type { PartScene } from "../scene.ts";
import { type Glance, type Keen, keenOn, NOTHING, offOf, type Pair, Track } from "./eye.ts";
import { Dip, Movement, StepReach } from "./movement.ts";
import { judgeRests, looksWrong, type Rest } from "./rests.ts";

const NO_MOVE_AFTER: Frame = 16;
const REVERSED: Frame = 8;
const SHOULD_STAND: Frame = 6;

/** Watches one moving part closely through one step, against what it ought to do. */
export class MoverEye {
  private readonly mine = new Track();
  private readonly twin = new Track();
  private readonly movement = new Movement();
  private readonly dip = new Dip();
  private readonly reach = new StepReach();
  private readonly stillness = new Stillness();
  private readonly known: readonly Rest[];
  private rests: readonly Rest[] = [];
  private noted: readonly SymptomId[] = [];
  private reversed: Frame = 0;
  private against: Frame = 0;
  private along: Frame = 0;
  private stood: Frame = 0;
  private late: Frame = 0;
  private moved = false;
  private last: Pair | undefined;

  /** `known`: where the same part came to rest in earlier steps. */
  constructor(known: readonly Rest[]) {
    this.known = known;
  }

  /** What is noticed of a moving part in this frame, beside a sound twin. */
  see(pair: Pair): Glance {
    const keen = keenOn(pair.twin, pair.light);
    this.last = pair;
    this.reach.see(pair.mine.at, pair.twin.at);
    this.mine.add(pair.mine.at, keen.speed);
    this.twin.add(pair.twin.at, keen.speed);
    const event = this.movement.see(pair, this.mine, this.twin);
    if (event === "set-off") this.setOff();
    if (this.movement.mineWent > keen.place) this.moved = true;
    const turning = pair.twin.kind === "turn" && pair.twin.turning;
    const glances = [
      this.reversal(keen),
      this.moving(pair, keen),
      turning ? NOTHING : this.standing(pair, keen),
      event === "rested" && !turning ? this.rested(pair, keen) : NOTHING,
    ];
    return { there: glances.some(({ there }) => there), symptoms: glances.flatMap(({ symptoms }) => symptoms) };
  }

  /** Ends the step and says in words what was seen in all of it. */
  settle(): readonly SymptomId[] {
    const { last, noted } = this;
    const still = noted.includes("no-move") || noted.includes("trembles");
    if (!last || (still && !this.moved)) return noted;
    if (this.inverted) return ["inverted"];
    const keen = keenOn(last.twin, last.light);
    const reach = last.twin.kind === "travel" ? this.reach.judge(keen.gross, this.twin.heading) : [];
    const judged = judgeRests(this.rests, { keen, known: this.known, ...shapeOf(last.twin) });
    const rests = reach.length > 0 ? reach : judged;
    const short = rests.includes("stops-short") || rests.includes("short-range");
    const dips = this.dip.settle().filter((symptom) => !short || symptom === "jerks");
    const seen = noted.map((symptom) => (symptom === "no-move" ? "stalls" : symptom));
    return [...new Set([...seen, ...dips, ...rests])];
  }

  /** Where it came to rest, to be remembered for the next step. */
  get places(): readonly Rest[] {
    return this.rests;
  }

  private setOff(): void {
    this.stillness.restart();
    this.dip.leave();
    this.stood = this.late = 0;
  }

  /** Goes the other way. A late one does so too for a while after a turn-round, so the whole step decides. */
  private reversal(keen: Keen): Glance {
    const both = this.twin.steady && Math.abs(this.mine.speed) > Math.max(keen.speed, 0.4 * Math.abs(this.twin.speed));
    const against = both && this.mine.speed * this.twin.speed < 0;
    if (against) this.against += 1;
    else if (both) this.along += 1;
    this.reversed = against ? this.reversed + 1 : 0;
    return this.reversed === REVERSED ? { there: true, symptoms: [] } : NOTHING;
  }

  private get inverted(): boolean {
    return this.against >= REVERSED && this.against > 3 * this.along;
  }

  private moving(pair: Pair, keen: Keen): Glance {
    const { movement } = this;
    if (movement.went < 3 * keen.place) return NOTHING;
    if (movement.mineWent < keen.place) {
      this.stood += 1;
      return this.stood === NO_MOVE_AFTER ? this.note(pair.mine.trembles > 0.15 ? "trembles" : "no-move") : NOTHING;
    }
    const there = this.dip.see(this.mine, this.twin, Math.abs(offOf(pair)) / keen.place);
    return there ? { there, symptoms: [] } : this.lateness(pair, keen);
  }

  /** Arrives clearly later than it should. */
  private lateness(pair: Pair, keen: Keen): Glance {
    const off = offOf(pair);
    const late =
      this.twin.still > 0 && this.mine.still === 0 && Math.abs(off) > keen.place && this.mine.speed * off < 0;
    this.late = late ? this.late + 1 : 0;
    return late && this.late === Math.ceil(8 + 0.2 * this.movement.frames) && !this.dip.open
      ? this.note("slow")
      : NOTHING;
  }

  private standing(pair: Pair, keen: Keen): Glance {
    if (this.twin.still < SHOULD_STAND) return NOTHING;
    const weight = isAxisFunction(pair.twin.function) ? "heavy" : "light";
    const symptom = this.stillness.see(offOf(pair), keen, weight, this.mine.still);
    return symptom ? this.note(symptom) : NOTHING;
  }

  private rested(pair: Pair, keen: Keen): Glance {
    const off = offOf(pair);
    const rest = { off, way: this.movement.way, place: pair.twin.at, upright: pair.upright };
    const there = this.stood === 0 && looksWrong(rest, [...this.known, ...this.rests], keen);
    this.rests = [...this.rests, rest];
    return { there, symptoms: [] };
  }

  private note(symptom: SymptomId): Glance {
    if (!this.noted.includes(symptom)) this.noted = [...this.noted, symptom];
    return { there: true, symptoms: [symptom] };
  }
}

const shapeOf = (part: PartScene): { readonly kind: "ends" | "wheel" | "turn" | "leaf"; readonly pitch: number } => {
  if (part.kind === "wheel") return { kind: "wheel", pitch: 1 / part.places };
  return { kind: part.kind === "travel" ? "ends" : part.kind === "leaf" ? "leaf" : "turn", pitch: 1 };
};

const SETTLED: Frame = 20;
const SWINGS = 2;
/** How long after the stop a swing has died away; what still swings then hunts. */
const DIED_AWAY: Frame = 60;
const HUNTS = 3;

/** Watches what should stand still: swings, creeps, slips. */
class Stillness {
  private frames: Frame = 0;
  private turns = 0;
  private hunting = 0;
  private low = 0;
  private high = 0;
  private way = 0;
  private base: number | undefined;
  private baseFrame: Frame = 0;
  private reported: readonly SymptomId[] = [];

  /** Begins anew: the part has just been commanded to stop at another place. */
  restart(): void {
    this.frames = this.turns = this.hunting = this.way = 0;
    this.base = undefined;
    this.reported = [];
  }

  /**
   * What is first noticed in this frame of a part that should stand still; undefined where nothing is.
   * `off` is how far it is from where it should stand, in its own measure (share of travel, or turns), and
   * `stood` is how long it should have stood.
   */
  see(off: number, keen: Keen, swings: "heavy" | "light", stood: Frame): SymptomId | undefined {
    this.frames += 1;
    if (this.frames === 1) this.low = this.high = off;
    this.follow(off, keen.place * 0.7);
    if (swings === "heavy" && this.hunting >= HUNTS) return this.once("hunts");
    if (swings === "heavy" && this.turns >= SWINGS) return this.once("swings-on");
    return this.turns < SWINGS ? this.creeping(off, keen.place, stood) : undefined;
  }

  /** Counts turning points further apart than the eye can miss. */
  private follow(off: number, least: number): void {
    this.low = Math.min(this.low, off);
    this.high = Math.max(this.high, off);
    if (this.way >= 0 && off < this.high - least) this.turned(-1, off);
    else if (this.way <= 0 && off > this.low + least) this.turned(1, off);
  }

  private turned(way: number, off: number): void {
    if (this.way !== 0) this.turns += 1;
    if (this.frames > DIED_AWAY) this.hunting += 1;
    this.way = way;
    this.low = this.high = off;
  }

  /** Something that has come to rest and then leaves its place. */
  private creeping(off: number, least: number, stood: Frame): SymptomId | undefined {
    if (this.base === undefined) {
      if (stood < SETTLED) return undefined;
      this.base = off;
      this.baseFrame = this.frames;
    }
    if (Math.abs(off - this.base) <= least) return undefined;
    return this.once(this.frames - this.baseFrame > 40 ? "creeps" : "slips-back");
  }

  private once(symptom: SymptomId): SymptomId | undefined {
    if (this.reported.includes(symptom)) return undefined;
    this.reported = [...this.reported, symptom];
    return symptom;
  }
}
