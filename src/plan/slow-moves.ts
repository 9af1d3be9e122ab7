import { type Profile, type Raw, type Travel, travelOf } from "../data/profile/profile.ts";
import { AXIS_FUNCTIONS, type FunctionId } from "../domain/trade/functions.ts";
import type { Seconds } from "../domain/units.ts";
import { dark } from "./base.ts";
import { MOST_FLASHES, mostFlashes } from "./flashes.ts";
import { mechanicalFloor, Score, travelTime } from "./score.ts";
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
  const axes = AXIS_FUNCTIONS.flatMap((id) => {
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

/** One function worked between two places, everything else left as it is. */
export interface ToAndFro {
  readonly function: FunctionId;
  /** Raw values, the lower first. */
  readonly low: Raw;
  readonly high: Raw;
  /** For one way. */
  readonly pass: Seconds;
}

/** How many ways before somebody has to be asked whether they still look. */
const WAYS = 20;
/** How many times as long as it could a fixture takes, to be followed from outside the swing. Judgement. */
const UNHURRIED = 6;
const LEAST_APPROACH_S: Seconds = 1;
const TURN_S: Seconds = 0.3;

/**
 * A step that goes slowly from where the function stands to the low place, then to and fro between
 * the two; everything else stands still.
 */
export const toAndFro = (
  profile: Profile,
  standing: ReadonlyMap<FunctionId, Raw>,
  { function: id, low, high, pass }: ToAndFro,
): CompiledStep => {
  const score = new Score(profile, standing, 1);
  const away = travelTime(profile, id, score.raw(id), low);
  if (away > 0) score.ramp([[id, low]], Math.max(LEAST_APPROACH_S, UNHURRIED * away));
  for (let way = 0; way < WAYS; way++) {
    score.hold(TURN_S);
    score.ramp([[id, way % 2 === 0 ? high : low]], pass);
  }
  const step = {
    id: `to-and-fro-${id.toLowerCase()}`,
    routine: "short-sweep" as const,
    functions: [id],
    fitted: true,
    watch: "look and listen from outside the swing",
    frames: score.at,
    leadIn: 0,
    start: new Map(standing),
    moves: score.moves,
    beam: "shut" as const,
    notes: [],
    floor: mechanicalFloor(profile, score.moves),
    pace: 1,
    line: 0,
  };
  const flashes = mostFlashes(profile, step);
  return flashes > MOST_FLASHES ? { ...step, flashes, start: dark(profile, standing) } : { ...step, flashes };
};
