import { type Bench, inSector } from "../data/bench/bench.ts";
import {
  type Band,
  bandOf,
  darkenedBy,
  type FunctionSpec,
  insideBand,
  type Profile,
  physicalOf,
  type Raw,
  rawOf,
} from "../data/profile/profile.ts";
import type { Step } from "../data/sequence/sequence.ts";
import { entriesOf } from "../domain/keys.ts";
import { FUNCTIONS, type FunctionId, isAxisFunction } from "../domain/trade/functions.ts";
import type { MechanismId } from "../domain/trade/mechanisms.ts";
import { type Frame, framesIn, type Seconds } from "../domain/units.ts";
import type { Task } from "./score.ts";
import type { Move } from "./timeline.ts";

/**
 * What all other functions do while a step runs. Dark: judged by ear and by the body. Dot: a small hard dot on the wall
 * shows the smallest movement. White: an even field shows colour and shade. Picture: a gobo made sharp shows focus and wobble.
 */
export type BeamLook = "dark" | "dot" | "white" | "picture";

const LOOK_FOR: Partial<Record<MechanismId, BeamLook>> = {
  zoom: "picture",
  focus: "picture",
  prism: "picture",
  frost: "picture",
};
const DOT_ROUTINES: readonly string[] = ["snap", "backlash", "hold", "return", "identify", "shake"];

/** The beam that a step wants: shut, a small dot, full white, or a picture. */
export const lookFor = (step: Step): BeamLook => {
  if (step.options.beam === "shut") return "dark";
  const first = step.functions[0];
  if (first === undefined)
    return DOT_ROUTINES.includes(step.routine) ? "dot" : step.routine === "side-by-side" ? "white" : "dark";
  if (isAxisFunction(first))
    return step.options.beam === "open" || DOT_ROUTINES.includes(step.routine) ? "dot" : "dark";
  return LOOK_FOR[FUNCTIONS[first].mechanism] ?? "white";
};

/** A raw value for each function, at one moment. */
export type RawValues = ReadonlyMap<FunctionId, Raw>;

/** The raw value of every function under a look, before the step moves anything. */
export const baseSetting = (
  profile: Profile,
  bench: Bench,
  step: Step,
  look: BeamLook,
): ReadonlyMap<FunctionId, Raw> => {
  const settings: readonly (readonly [FunctionId, number | undefined])[] = [
    ["Pan", bench.target.pan],
    ["Tilt", bench.target.tilt],
    ["Dimmer", look === "dark" ? 0 : look === "dot" ? 20 : 100],
    ["Iris", look === "dot" ? 10 : 100],
    ["Zoom", look === "dot" ? Number.NEGATIVE_INFINITY : undefined],
    ["Focus1", sharp(profile)],
    ...emitters(profile, step, look),
  ];
  const base = new Map(profile.rest);
  for (const [id, value] of settings) put(profile, base, id, value);
  if (look === "picture") putFirstGobo(profile, base, step);
  for (const carrier of carriersOf(step)) putFirst(profile, base, carrier);
  for (const [id, value] of entriesOf(step.options.others ?? {})) putOther(profile, base, id, value);
  return base;
};

/** The raw values that open or shut the beam: the shutter's, else the dimmer's, else those of all emitters. */
export const beamRaw = (profile: Profile, beam: "open" | "shut"): readonly (readonly [FunctionId, Raw])[] => {
  const shutter = profile.functions.get("Shutter1");
  const band: Band | undefined =
    shutter?.kind === "banded" ? bandOf(shutter, beam === "open" ? "open" : "closed") : undefined;
  if (band) return [["Shutter1", insideBand(band)]];
  return beam === "shut" ? darkenedBy(profile.functions).map((id) => [id, profile.rest.get(id) ?? 0]) : [];
};

/** Whether pan and tilt stay where this bench allows an open beam, at all these values. */
export const staysInSector = (profile: Profile, bench: Bench, pans: readonly Raw[], tilts: readonly Raw[]): boolean =>
  degreesOf(profile, "Pan", pans, bench.target.pan).every((pan) =>
    degreesOf(profile, "Tilt", tilts, bench.target.tilt).every((tilt) => inSector(bench, pan, tilt)),
  );

const degreesOf = (profile: Profile, id: FunctionId, raws: readonly Raw[], otherwise: number): readonly number[] => {
  const spec = profile.functions.get(id);
  return spec?.kind === "travel" ? raws.map((raw) => physicalOf(spec, raw)) : [otherwise];
};

const sharp = (profile: Profile): number | undefined => {
  const focus = profile.functions.get("Focus1");
  return focus?.kind === "travel" ? focus.sharp : undefined;
};

const put = (profile: Profile, base: Map<FunctionId, Raw>, id: FunctionId, value: number | undefined): void => {
  const spec = profile.functions.get(id);
  if (value === undefined || spec?.kind !== "travel") return;
  base.set(id, rawOf(spec, Math.min(Math.max(value, Math.min(spec.from, spec.to)), Math.max(spec.from, spec.to))));
};

const putOther = (profile: Profile, base: Map<FunctionId, Raw>, id: FunctionId, value: number): void => {
  const spec = profile.functions.get(id);
  if (spec?.kind === "wheel") base.set(id, spec.positions[value]?.at ?? 0);
  else put(profile, base, id, value);
};

/** Focus, zoom, prism and frost want something to look at; a fixed gobo first, since it cannot turn by itself. */
const putFirstGobo = (profile: Profile, base: Map<FunctionId, Raw>, step: Step): void => {
  const gobos = (["Gobo2", "Gobo1"] as const).filter((id) => profile.functions.has(id) && !step.functions.includes(id));
  const first = gobos[0];
  if (first) putFirst(profile, base, first);
};

/** White from the white emitter, else from all of them; each emitter is judged alone. */
const emitters = (profile: Profile, step: Step, look: BeamLook): readonly (readonly [FunctionId, number])[] => {
  const fitted = [...profile.functions.keys()].filter((id) => id.startsWith("ColorAdd_"));
  const shining = fitted.includes("ColorAdd_W") ? ["ColorAdd_W"] : fitted;
  const alone = step.functions.some((id) => fitted.includes(id));
  return fitted.map((id) => [id, look !== "dark" && !alone && shining.includes(id) ? 100 : 0] as const);
};

/** What must be in the beam for a rotation to show: its own wheel, its own prism. */
const CARRIERS: Partial<Record<FunctionId, FunctionId>> = { Gobo1Pos: "Gobo1", Gobo2Pos: "Gobo2", Prism1Pos: "Prism1" };
const carriersOf = (step: Step): readonly FunctionId[] => step.functions.flatMap((id) => CARRIERS[id] ?? []);

const putFirst = (profile: Profile, base: Map<FunctionId, Raw>, id: FunctionId): void => {
  const raw = firstIn(profile.functions.get(id));
  if (raw !== undefined) base.set(id, raw);
};

const firstIn = (spec: FunctionSpec | undefined): Raw | undefined => {
  if (spec?.kind === "wheel") return spec.positions.find(({ is }) => is !== "open")?.at;
  const band = spec?.kind === "banded" ? bandOf(spec, "in") : undefined;
  return band ? insideBand(band) : spec?.kind === "travel" ? spec.high : undefined;
};

/**
 * The setting with no light: shutter closed, dimmer at nothing, or emitters where there is neither. Commands are let go,
 * since a reset that is held on would still begin. Every axis and every wheel stays as it is.
 */
export const dark = (profile: Profile, setting: ReadonlyMap<FunctionId, Raw>): ReadonlyMap<FunctionId, Raw> =>
  new Map([...setting].map(([id, raw]) => [id, darkRaw(profile, id) ?? raw] as const));

/** Where a function stands in the dark; undefined for one that the light does not depend on, and that gives no command. */
export const darkRaw = (profile: Profile, id: FunctionId): Raw | undefined => {
  const spec = profile.functions.get(id);
  if (spec?.kind === "commands") return spec.rest;
  const lights = id === "Shutter1" || id === "Dimmer" || darkenedBy(profile.functions).includes(id);
  return spec && lights ? shut(profile, id, spec) : undefined;
};

const shut = (profile: Profile, id: FunctionId, spec: FunctionSpec): Raw => {
  const closed = spec.kind === "banded" ? bandOf(spec, "closed") : undefined;
  if (closed) return insideBand(closed);
  return spec.kind === "travel" ? rawOf(spec, 0) : (profile.rest.get(id) ?? 0);
};

/** Moves before the step proper, and the frames they take. */
export interface OpeningMoves {
  readonly moves: readonly Move[];
  readonly frames: Frame;
}

/**
 * How long the beam is shut between two steps at least, so that the change of picture is not taken for a fault; longer
 * where the shut beam is the sign that a step begins.
 */
export const shutBetween = ({ announce }: Bench): Seconds => (announce === "fixture" ? 1 : 0.5);

/** After the beam opens, before anything moves: the eye has to arrive. */
const SETTLE_S: Seconds = 0.25;
/** One slow dip, far from any flash rate that could hurt. */
const DIP_S: Seconds = 1;

/**
 * The moves that open the beam; on a bench where the fixture itself announces, one slow dip of its light says "watch now".
 */
export const openBeam = (task: Task, start: RawValues, base: RawValues, at: Frame): OpeningMoves => {
  const moves = openingMoves(task, start, base, at);
  const settled = at + framesIn(SETTLE_S);
  const dip = task.bench.announce === "fixture" ? dipMoves(task, base, settled) : [];
  return { moves: [...moves, ...dip], frames: framesIn(SETTLE_S) + (dip.length > 0 ? framesIn(DIP_S) : 0) };
};

const openingMoves = ({ profile, functions }: Task, start: RawValues, base: RawValues, at: Frame): readonly Move[] => {
  const opens = new Map([
    ...beamRaw(profile, "shut").map(([id]) => [id, base.get(id) ?? 0] as const),
    ...beamRaw(profile, "open"),
  ]);
  return [...opens]
    .filter(([id, to]) => !functions.includes(id) && start.get(id) !== to)
    .map(([id, to]) => ({ function: id, from: start.get(id) ?? 0, to, start: at, frames: 0 }));
};

/** Only with a dimmer, and not where the dimmer or the shutter is what is being judged. */
const dipMoves = ({ profile, functions }: Task, base: RawValues, at: Frame): readonly Move[] => {
  const level = base.get("Dimmer");
  const judged = functions.includes("Dimmer") || functions.includes("Shutter1");
  if (level === undefined || level === 0 || judged || profile.functions.get("Dimmer")?.kind !== "travel") return [];
  const half = framesIn(DIP_S / 2);
  return [
    { function: "Dimmer", from: level, to: 0, start: at, frames: half },
    { function: "Dimmer", from: 0, to: level, start: at + half, frames: half },
  ];
};
