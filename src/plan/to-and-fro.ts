import type { Profile, Raw } from "../data/profile/profile.ts";
import type { FunctionId } from "../domain/trade/functions.ts";
import type { Seconds } from "../domain/units.ts";
import { dark } from "./dark.ts";
import { MOST_FLASHES, mostFlashes } from "./flashes.ts";
import { mechanicalFloor, Score, travelTime } from "./score.ts";
import type { CompiledStep } from "./timeline.ts";

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
