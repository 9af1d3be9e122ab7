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
import type { FunctionId } from "../domain/trade/functions.ts";
import { FUNCTIONS } from "../domain/trade/functions.ts";
import type { MechanismId } from "../domain/trade/mechanisms.ts";

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
  if (first === "Pan" || first === "Tilt")
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
