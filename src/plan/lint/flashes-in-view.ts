import { fullRaw, type Profile } from "../../data/profile/profile.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import { FRAMES_PER_SECOND } from "../../domain/units.ts";
import type { CompiledStep, Timeline } from "../timeline.ts";
import type { Rule } from "./rule.ts";

/** In any one second (WCAG 2.1, success criterion 2.3.1). A flash is two changes of light, one against the other. */
const MOST_FLASHES = 3;
/** Of full light; less is no flash (the same criterion). */
const LEAST_CHANGE = 0.1;

/** More than three flashes a second with the beam open. */
export const flashesInView: Rule = {
  name: "flashes-in-view",
  why: "More than three flashes in a second can bring a seizure on in somebody who is in the room.",
  find: ({ sequence, timelines }) =>
    sequence.steps.flatMap((_, index) => {
      const most = Math.max(...timelines.map((timeline) => flashesIn(timeline, index)));
      return most <= MOST_FLASHES
        ? []
        : [
            {
              path: ["steps", index],
              message: `${most} flashes in a second, in view`,
              instead: "a longer dwell_s or more seconds, or beam: shut",
            },
          ];
    }),
};

const flashesIn = ({ profile, steps }: Timeline, index: number): number => {
  const step = steps[index];
  return step?.beam === "open" || step?.functions.includes("Shutter1")
    ? Math.max(0, ...LIGHTS.map((id) => flashesOf(profile, step, id)))
    : 0;
};

const LIGHTS: readonly FunctionId[] = ["Dimmer", "Shutter1", "ColorAdd_R", "ColorAdd_G", "ColorAdd_B", "ColorAdd_W"];

/** The most in any second that begins with a change. */
const flashesOf = (profile: Profile, step: CompiledStep, id: FunctionId): number => {
  const spec = profile.functions.get(id);
  if (!spec) return 0;
  const changes = step.moves
    .filter((move) => move.function === id && Math.abs(move.to - move.from) >= LEAST_CHANGE * fullRaw(spec))
    .map((move) => ({ at: move.start + move.frames, way: Math.sign(move.to - move.from) }));
  const turns = changes.filter(({ way }, index) => way !== changes[index - 1]?.way).map(({ at }) => at);
  const inOneSecond = turns.map((at) => turns.filter((other) => other >= at && other < at + FRAMES_PER_SECOND).length);
  return Math.floor(Math.max(0, ...inOneSecond) / 2);
};
