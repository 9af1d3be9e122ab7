import { assess } from "../../../src/diagnosis/places/assessment.ts";
import type { Watch } from "../../../src/diagnosis/places/watch.ts";
import { afterTrip, NO_TRIPS, ourTime } from "../../../src/run/phone/clock.ts";
import { chanceFrom, type SimDraw } from "../../../src/sim/chance.ts";
import { stepOf } from "../../diagnosis/places/kit/rig.ts";
import { ordinary, watched } from "../../diagnosis/places/kit/session.ts";
import { type Row, row } from "../line/row.ts";

const SEEDS = Number(process.env["SEEDS"] ?? 200);
/** As the page asks for the time. */
const PING_S = 0.5;

/**
 * The same presses by key, by phone, and counted from when they arrive: a bad spot anywhere on pan, 5 passes each way at 60
 * degrees a second. The phone's clock began at another moment and runs up to 60 parts in a million wrong; every message takes
 * so long either way and up to as long again on top, each drawn for itself. Presses, air and clock are simulated.
 */
export const airRows = (): readonly Row[] => [5, 50, 300].flatMap((added) => rowsFor(added / 1000));

const rowsFor = (added: number): readonly Row[] => {
  const all = Array.from({ length: SEEDS }, (_, seed) => trial(added, seed));
  const errors = (of: keyof Trial) => all.flatMap((one) => one[of]?.off ?? []);
  const held = all.flatMap(({ phone }) => phone?.holds ?? []);
  const name = `simulated, ${added * 1000} ms added each way, and up to as much again`;
  return [
    row(
      `${name}: place by phone, root mean square error of ${SEEDS} (other: by key)`,
      "deg",
      rms(errors("phone")),
      rms(errors("key")),
    ),
    row(
      `${name}: the same (other: each press counted from when it arrives)`,
      "deg",
      rms(errors("phone")),
      rms(errors("arrived")),
    ),
    row(`${name}: interval, median half width (other: by key)`, "deg", width(all, "phone"), width(all, "key")),
    row(
      `${name}: by phone the interval holds the place`,
      "% of these",
      (100 * held.filter(Boolean).length) / held.length,
    ),
  ];
};

interface Found {
  readonly off: number;
  readonly holds: boolean | undefined;
  readonly half: number | undefined;
}
type Trial = Readonly<Record<"key" | "phone" | "arrived", Found | undefined>>;

const STEP = stepOf("{ sweep: Pan, deg_per_s: 60, passes: 10 }");

const trial = (added: number, seed: number): Trial => {
  const chance = chanceFrom(seed * 7919 + 13);
  const place = -240 + 480 * chance();
  const keyed = watched([STEP], { kind: "position", place }, { ...ordinary(chance), misses: 0, strays: 0 }, chance);
  const air = new SimulatedAir(added, chance);
  const onPhone = keyed.map((watch) => air.heard(watch));
  const found = (watches: readonly Watch[]): Found | undefined => {
    const one = assess(watches)?.place;
    const { interval } = one ?? {};
    return (
      one && {
        off: one.at - place,
        holds: interval && interval.low <= place && interval.high >= place,
        half: interval && (interval.high - interval.low) / 2,
      }
    );
  };
  const arrived = onPhone.map(({ watch, arrivals }) => ({ ...watch, presses: arrivals, gives: arrivals.map(() => 0) }));
  return { key: found(keyed), phone: found(onPhone.map(({ watch }) => watch)), arrived: found(arrived) };
};

/** Between a phone and the bench, in seconds of the bench's clock. */
class SimulatedAir {
  private readonly added: number;
  private readonly chance: SimDraw;
  private readonly ahead: number;
  private readonly fast: number;

  constructor(added: number, chance: SimDraw) {
    this.added = added;
    this.chance = chance;
    this.ahead = 1000 * chance();
    this.fast = (chance() - 0.5) * 120e-6;
  }

  /** What the bench makes of these presses, and when it heard of them. */
  heard(watch: Watch): { readonly watch: Watch; readonly arrivals: readonly number[] } {
    const presses: number[] = [];
    const gives: number[] = [];
    const arrivals: number[] = [];
    let clock = NO_TRIPS;
    // Paired a while before anything moves.
    let next = -20;
    for (const press of watch.presses) {
      const arrival = press + this.delay();
      for (; next < arrival; next += PING_S) clock = afterTrip(clock, this.trip(next));
      const ours = ourTime(clock, this.phoneMs(press));
      if (!ours) throw new Error("Bug: no round trip in twenty seconds");
      presses.push(Math.min(arrival, ours.at / 1000));
      gives.push(ours.give / 1000);
      arrivals.push(arrival);
    }
    return { watch: { ...watch, presses, gives }, arrivals };
  }

  private delay(): number {
    return this.added * (1 + this.chance());
  }

  private phoneMs(ours: number): number {
    return (this.ahead + ours * (1 + this.fast)) * 1000;
  }

  private trip(at: number) {
    const received = at + this.delay();
    const back = received + this.delay();
    return { sent: this.phoneMs(at), received: received * 1000, answered: received * 1000, back: this.phoneMs(back) };
  }
}

const rms = (errors: readonly number[]): number =>
  Math.sqrt(errors.reduce((sum, error) => sum + error * error, 0) / errors.length);

const width = (all: readonly Trial[], of: keyof Trial): number => {
  const halves = all.flatMap((one) => one[of]?.half ?? []).sort((a, b) => a - b);
  return halves[Math.floor(halves.length / 2)] ?? Number.NaN;
};
