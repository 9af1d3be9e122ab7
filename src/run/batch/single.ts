import { askingTime } from "../session/asked.ts";
import type { Input } from "../session/input.ts";
import type { Session } from "../session/session.ts";
import { step } from "../session/step.ts";
import type { Conduct } from "./conduct.ts";
import { questionTo } from "./questions.ts";
import { lifted, type Spot, type Wisher } from "./wish.ts";

/** A run of one fixture as the shell plays it: a rack of one. */
export const singleRun = (session: Session, run: string): Conduct<Session, Input> => {
  const wisher = wisherOf(session, run);
  return {
    opening: session,
    spots: [wisher.spot],
    asks: (now) => questionTo(now, wisher, askingTime(now)),
    step: (before, input) => {
      const [after, wishes] = step(before, input);
      return [after, wishes.map((wish) => lifted(wish, wisher))];
    },
  };
};

const wisherOf = ({ job }: Session, run: string): Wisher => {
  const { serial, universe, address } = job.opening.fixture;
  const spot: Spot = { universe, address, profile: job.timeline.profile };
  return { serial, spot, run };
};
