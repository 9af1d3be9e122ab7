import {
  type Banded,
  type FunctionSpec,
  type Profile,
  physicalOf,
  type Raw,
  type Wheel,
} from "../data/profile/profile.ts";
import type { FunctionId } from "../domain/trade/functions.ts";
import { FRAMES_PER_SECOND, type Frame } from "../domain/units.ts";
import { rawAt } from "./sample.ts";
import type { CompiledStep } from "./timeline.ts";

/** In any one second (WCAG 2.2, success criterion 2.3.1). A flash is a rise of the light and a fall, or the other way round. */
export const MOST_FLASHES = 3;
/** The least change, as a share of full light, that counts as a flash (the same criterion). */
const LEAST_CHANGE = 0.1;
/** What a colour flag takes away of the light when it is all in: so little that nothing behind it is taken for dark. Judgement. */
const FLAG_TAKES = 0.8;

type MovingStep = Pick<CompiledStep, "frames" | "start" | "moves">;

/**
 * The most flashes in any one second of the light that leaves the fixture (WCAG 2.2, success criterion 2.3.1): dimmer,
 * shutter, iris, flags, emitters and colour wheels together. Counted on the safe side: nobody knows how dark a colour is,
 * so each new one may be a rise within a fall; a strobe counts with its own rate in hertz.
 */
export const mostFlashes = (profile: Profile, step: MovingStep): number => {
  if (!couldFlash(profile, step)) return 0;
  const emitters = [...profile.functions.keys()].filter(isEmitter);
  const views = emitters.length > 0 ? emitters : [undefined];
  return Math.max(...views.map((emitter) => flashesOf(profile, step, emitter)));
};

const isEmitter = (id: FunctionId): boolean => id.startsWith("ColorAdd_");
const isFlag = (id: FunctionId): boolean => id.startsWith("ColorSub_") || id === "CTO";
const isWheel = (id: FunctionId): boolean => id === "Color1" || id === "Color2";
const isLight = (id: FunctionId): boolean =>
  id === "Dimmer" || id === "Shutter1" || id === "Iris" || isEmitter(id) || isFlag(id) || isWheel(id);

/** A straight movement makes two changes at most, so as many of them in a second as flashes are allowed are never too many; a strobe is by itself. */
const couldFlash = (profile: Profile, { start, moves }: MovingStep): boolean => {
  const light = moves.filter((move) => isLight(move.function));
  const shutter = profile.functions.get("Shutter1");
  const levels = light.flatMap(({ function: id, to }) => (id === "Shutter1" ? [to] : []));
  if ([start.get("Shutter1") ?? 0, ...levels].some((raw) => strobeHz(shutter, raw) > 0)) return true;
  const ends = light.map((move) => move.start + move.frames);
  return ends.some(
    (end) =>
      light.filter((other, at) => (ends[at] ?? 0) >= end && other.start < end + FRAMES_PER_SECOND).length >
      MOST_FLASHES,
  );
};

interface LightChange {
  readonly at: Frame;
  /** How many rises and falls; a strobe makes parts of one in every frame. */
  readonly count: number;
}

const flashesOf = (profile: Profile, step: MovingStep, emitter: FunctionId | undefined): number => {
  const changes = changesOf(profile, step, emitter);
  let most = 0;
  let inWindow = 0;
  let first = 0;
  for (const { at, count } of changes) {
    inWindow += count;
    for (let oldest = changes[first]; oldest && oldest.at <= at - FRAMES_PER_SECOND; oldest = changes[++first])
      inWindow -= oldest.count;
    most = Math.max(most, inWindow);
  }
  return Math.ceil(most / 2 - ROUNDING);
};
const ROUNDING = 1e-9;

/** In the order of their frames. */
const changesOf = (profile: Profile, step: MovingStep, emitter: FunctionId | undefined): readonly LightChange[] => {
  const changes: LightChange[] = [];
  const factors = factorsOf(profile, step, emitter);
  const wheels = [...profile.functions].flatMap(([id, spec]) =>
    isWheel(id) && spec.kind === "wheel" ? [{ id, spec }] : [],
  );
  let extreme = factors.reduce((product, factor) => product * factor(0), 1);
  let way = extreme > 0 ? 1 : -1;
  let colours = "";
  for (let n = 0; n <= step.frames; n++) {
    const light = factors.reduce((product, factor) => product * factor(n), 1);
    if (Math.abs(light - extreme) >= LEAST_CHANGE && Math.sign(light - extreme) !== way) {
      changes.push({ at: n, count: 1 });
      way = Math.sign(light - extreme);
    }
    if (Math.sign(light - extreme) === way) extreme = light;
    const now = wheels.map(({ id, spec }) => positionOf(spec, rawAt(step, id, n))).join();
    if (now !== colours && n > 0 && light >= LEAST_CHANGE) changes.push({ at: n, count: 2 });
    colours = now;
    const hz = strobeHz(profile.functions.get("Shutter1"), rawAt(step, "Shutter1", n));
    if (hz > 0 && light >= LEAST_CHANGE) changes.push({ at: n, count: (2 * hz) / FRAMES_PER_SECOND });
  }
  return changes;
};

const positionOf = ({ positions }: Wheel, raw: Raw): number => positions.findLastIndex(({ at }) => at <= raw);

/** What each part lets through at a frame, 0 to 1; a strobe counts as open, its own rate is counted beside. */
const factorsOf = (
  profile: Profile,
  step: MovingStep,
  emitter: FunctionId | undefined,
): readonly ((n: Frame) => number)[] =>
  [...profile.functions].flatMap(([id, spec]) => {
    if (!isLight(id) || isWheel(id) || (isEmitter(id) && id !== emitter)) return [];
    if (step.moves.some((move) => move.function === id)) return [(n: Frame) => through(id, spec, rawAt(step, id, n))];
    const still = through(id, spec, step.start.get(id) ?? 0);
    return [() => still];
  });

const through = (id: FunctionId, spec: FunctionSpec, raw: Raw): number => {
  if (spec.kind === "banded") return bandAt(spec, raw)?.is === "closed" ? 0 : 1;
  if (spec.kind !== "travel") return 1;
  const share = Math.min(1, Math.max(0, physicalOf(spec, raw) / 100));
  return isFlag(id) ? 1 - FLAG_TAKES * share : share;
};

/** A band is chosen by the coarse slot. */
const bandAt = ({ slots, bands }: Banded, raw: Raw) => {
  const level = Math.floor(raw / 256 ** (slots.length - 1));
  return bands.find(({ from, to }) => level >= from && level <= to);
};

/** How often it flashes by itself at a raw value. Where nobody wrote down what it does, or how fast, it is taken for a fast strobe. */
const strobeHz = (spec: FunctionSpec | undefined, raw: Raw): number => {
  if (spec?.kind !== "banded") return 0;
  const band = bandAt(spec, raw);
  if (!band || (band.is === "strobe" && !band.range)) return FAST_HZ;
  if (band.is !== "strobe" || !band.range) return 0;
  const share = (raw / 256 ** (spec.slots.length - 1) - band.from) / Math.max(1, band.to - band.from);
  return Math.max(0, band.range[0] + (band.range[1] - band.range[0]) * Math.min(1, Math.max(0, share)));
};
const FAST_HZ = 25;
