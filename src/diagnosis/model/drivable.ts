import type { Bench } from "../../data/bench/bench.ts";
import { type Profile, travelOf } from "../../data/profile/profile.ts";
import type { Degrees } from "../../domain/units.ts";
import { canPlay } from "../../plan/compile.ts";
import { LEANS_OTHERWISE } from "./circumstances.ts";
import type { Drivable } from "./probe.ts";

/** What this fixture can be driven to on this bench: the head leans only as far as the beam may be open. Undefined: nobody knows the bench. */
export const drivableOn = (profile: Profile, bench: Bench | undefined): Drivable => ({
  canRun: (routine, id) => canPlay(profile, routine, id),
  leaning: bench && leaningOf(profile, bench),
});

/** What a slot value rounds to must not leave the sector. */
const MARGIN: Degrees = 1;

const leaningOf = (profile: Profile, { target, sector }: Bench): Drivable["leaning"] => {
  const travel = travelOf(profile, "Tilt");
  const within = (tilt: number): number =>
    travel ? Math.min(Math.max(travel.from, travel.to), Math.max(Math.min(travel.from, travel.to), tilt)) : tilt;
  const sides = [within(sector.tilt[0] + MARGIN), within(sector.tilt[1] - MARGIN)] as const;
  const leans = travel !== undefined && sides[1] - sides[0] >= LEANS_OTHERWISE;
  return leans ? { aimed: target.tilt, sides } : undefined;
};
