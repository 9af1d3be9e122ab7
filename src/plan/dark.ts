import {
  bandOf,
  darkenedBy,
  type FunctionSpec,
  insideBand,
  type Profile,
  type Raw,
  rawOf,
} from "../data/profile/profile.ts";
import type { FunctionId } from "../domain/trade/functions.ts";

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
