import { type Profile, type Raw, type Travel, travelOf } from "../data/profile/profile.ts";
import type { FunctionId } from "../domain/trade/functions.ts";
import type { Seconds } from "../domain/units.ts";
import { dark } from "./dark.ts";
import { Score } from "./score.ts";
import type { CompiledStep } from "./timeline.ts";

/** The share of the travel that it moves to one side and back. */
const SHARE = 0.04;
/** For one way: so slow that whoever stands too near notices and can step back. Judgement. */
const ONE_WAY_S: Seconds = 1.5;

/**
 * The announced slow movement before anything moves at full speed: pan and tilt a little and back, dark, in 3 s, from where
 * every function stands.
 */
export const slowStart = (profile: Profile, standing: ReadonlyMap<FunctionId, Raw>): CompiledStep => {
  const start = dark(profile, standing);
  const score = new Score(profile, start, 1);
  const axes = (["Pan", "Tilt"] as const).flatMap((id) => {
    const travel = travelOf(profile, id);
    return travel ? [[id, travel] as const] : [];
  });
  score.ramp(
    axes.map(([id, travel]) => [id, beside(travel, score.raw(id))] as const),
    ONE_WAY_S,
  );
  score.ramp(
    axes.map(([id]) => [id, start.get(id) ?? 0] as const),
    ONE_WAY_S,
  );
  return {
    id: "slow-start",
    routine: "short-sweep",
    functions: axes.map(([id]) => id),
    fitted: true,
    watch: "slow movement first: stand clear",
    frames: score.at,
    leadIn: 0,
    start,
    moves: score.moves,
    beam: "shut",
    flashes: 0,
    notes: [],
    floor: 0,
    pace: 1,
    line: 0,
  };
};

/** A little towards the middle of the travel, where there is room. */
const beside = ({ low, high }: Travel, raw: Raw): Raw =>
  raw + Math.round((raw > (low + high) / 2 ? -SHARE : SHARE) * (high - low));
