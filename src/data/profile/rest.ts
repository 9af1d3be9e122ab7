import type { FunctionId } from "../../domain/trade/functions.ts";
import { bandOf, type FunctionSpec, insideBand, type Raw, rawAt, rawOf } from "./profile.ts";
import type { ProfileFile } from "./schema.ts";

/** The raw value at rest of every function: as written under `rest`, else as the kind of function wants it. */
export const restOf = (
  functions: ReadonlyMap<FunctionId, FunctionSpec>,
  written: ProfileFile,
): ReadonlyMap<FunctionId, Raw> =>
  new Map(
    [...functions].map(([id, spec]) => [
      id,
      writtenRest(spec, written.rest[id]) ?? ownRest(spec, written, id) ?? usualRest(id, spec),
    ]),
  );

const writtenRest = (spec: FunctionSpec, rest: ProfileFile["rest"][FunctionId]): Raw | undefined => {
  if (typeof rest !== "string") return rest;
  const band = spec.kind === "banded" ? bandOf(spec, rest) : undefined;
  return band && insideBand(band);
};

const ownRest = (spec: FunctionSpec, written: ProfileFile, id: FunctionId): Raw | undefined => {
  const file = written.functions[id];
  if (spec.kind !== "travel" || file === undefined) return undefined;
  const value = "rest_deg" in file ? file.rest_deg : "rest_pct" in file ? file.rest_pct : undefined;
  return value === undefined ? undefined : rawOf(spec, value);
};

/** Pan, tilt, zoom and focus rest mid-travel, everything else out of the beam, control slots at "no function". */
const usualRest = (id: FunctionId, spec: FunctionSpec): Raw => {
  switch (spec.kind) {
    case "travel":
      return ["Pan", "Tilt", "Zoom", "Focus1", "ShaperRot"].includes(id) ? rawAt(spec, 0.5) : rawOf(spec, 0);
    case "banded":
      return insideBand(
        bandOf(spec, "closed") ??
          bandOf(spec, "out") ??
          bandOf(spec, "stop") ??
          bandOf(spec, "index") ?? { from: 0, to: 0, is: "nothing", range: undefined },
      );
    case "wheel":
      return spec.positions.find(({ is }) => is === "open")?.at ?? spec.positions[0]?.at ?? 0;
    case "commands":
      return spec.rest;
  }
};
