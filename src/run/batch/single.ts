import { askingTime } from "../session/asked.ts";
import type { Input } from "../session/input.ts";
import type { Session } from "../session/session.ts";
import { step } from "../session/step.ts";
import type { Conduct } from "./conduct.ts";
import { type EffectOwner, lifted, type Spot } from "./effect.ts";
import { questionTo } from "./questions.ts";

/** A run of one fixture as the shell plays it: a rack of one. */
export const singleRun = (session: Session, run: string): Conduct<Session, Input> => {
  const owner = ownerOf(session, run);
  return {
    opening: session,
    spots: [owner.spot],
    asks: (now) => questionTo(now, owner, askingTime(now)),
    step: (before, input) => {
      const [after, effects] = step(before, input);
      return [after, effects.map((effect) => lifted(effect, owner))];
    },
  };
};

const ownerOf = ({ job }: Session, run: string): EffectOwner => {
  const { serial, universe, address } = job.opening.fixture;
  const spot: Spot = { universe, address, profile: job.timeline.profile };
  return { serial, spot, run };
};
