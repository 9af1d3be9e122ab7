import type { FunctionId } from "../../../domain/trade/functions.ts";
import type { ReadProfile } from "../parse.ts";
import type { Band, BandMeaning } from "../profile.ts";
import { functionsOf } from "./kinds.ts";
import type { ProfileFinding } from "./rule.ts";

/** Something to say about every band of one meaning, at its place in the file. */
export const aboutBands = (
  read: ReadProfile,
  is: BandMeaning,
  say: (band: Band, id: FunctionId) => Pick<ProfileFinding, "message" | "instead"> | undefined,
): readonly ProfileFinding[] =>
  functionsOf(read, "banded").flatMap(([id, { bands }]) =>
    bands.flatMap((band, index) => {
      const words = band.is === is ? say(band, id) : undefined;
      return words ? [{ path: ["functions", id, "bands", index], ...words }] : [];
    }),
  );
