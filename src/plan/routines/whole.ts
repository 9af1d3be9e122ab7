import { type Command, type Profile, type Raw, rawEnds } from "../../data/profile/profile.ts";
import { AXIS_FUNCTIONS, type FunctionId, isAxisFunction } from "../../domain/trade/functions.ts";
import type { Seconds } from "../../domain/units.ts";
import { allAtShare, offsetTargets, type Routine, type Score, times, travels } from "../score.ts";

const anyFunction = (): boolean => true;

/** A small wiggle of pan and tilt and a slow dip of the light: which fixture is this, and does it listen as the profile says? */
export const identify: Routine = {
  suits: anyFunction,
  prepare: (task) => offsetTargets({ ...task, functions: axesOf(task.profile) }, 0, 0),
  play: (task, score) => {
    if (task.functions.length > 0) {
      for (const id of task.functions) stir(task.profile, score, id);
      return;
    }
    for (const axis of axesOf(task.profile)) {
      const one = { ...task, functions: [axis] };
      for (const degrees of [5, -5, 0]) score.ramp(offsetTargets(one, degrees, 0), 0.5);
    }
    dip(task.profile, score);
  },
};
const axesOf = (profile: Profile): readonly FunctionId[] => AXIS_FUNCTIONS.filter((id) => travels(profile, id));

/**
 * Which slots does this function really work? Only the coarse slot moves, slowly: with the settings wrong the fine one
 * could run through somebody else's strobe.
 */
const stir = (profile: Profile, score: Score, id: FunctionId): void => {
  const spec = profile.functions.get(id);
  if (!spec) return;
  const level = 256 ** (spec.slots.length - 1);
  const rest = score.raw(id);
  const levels = isAxisFunction(id) ? 16 : 40;
  const way = rest + levels * level > rawEnds(spec)[1] ? -1 : 1;
  // Whatever the wrong settings made of the way to the start must have come to rest.
  score.hold(1);
  times(levels, (n) => stand(score, id, rest + way * (n + 1) * level, 0.05));
  score.hold(0.5);
  times(levels, (n) => stand(score, id, rest + way * (levels - 1 - n) * level, 0.05));
};

const stand = (score: Score, id: FunctionId, raw: Raw, time: Seconds): void => {
  score.jump([[id, raw]]);
  score.hold(time);
};

/** One slow dip: two seconds down and up, far from any flash rate that could hurt. */
const dip = (profile: Profile, score: Score): void => {
  if (!travels(profile, "Dimmer")) {
    score.hold(2);
    return;
  }
  const before = score.raw("Dimmer");
  score.ramp([["Dimmer", 0]], 1);
  score.ramp([["Dimmer", before]], 1);
};

/** The mains goes on and the fixture homes by itself, deaf meanwhile; then the light comes. Nothing is asked of it but to be watched. */
export const powerUp: Routine = {
  suits: anyFunction,
  prepare: () => [],
  play: ({ profile }, score) => {
    score.hold(profile.powerUp);
    command(profile, score, "lamp-on");
    score.hold(profile.lamp.strike + 2);
  },
};

/** Reset by DMX, watched: every function finds its home at the first try. */
export const home: Routine = {
  suits: (profile) => commandOf(profile, "reset") !== undefined,
  prepare: () => [],
  play: ({ profile }, score) => command(profile, score, "reset"),
};

/** Reset, then the first picture again: lost steps show as a picture that has moved. */
export const comeBack: Routine = {
  suits: (profile) => commandOf(profile, "reset") !== undefined,
  prepare: () => [],
  play: ({ profile, step }, score) => {
    score.hold(2);
    command(profile, score, "reset");
    score.hold(step.options.dwell_s ?? 4);
  },
};

/** How long it stands still at both ends: then the fixture itself can be asked, which may hold up a frame. */
const STANDS_S = 0.5;

/** Slow travel again and again, to see what heat does. */
export const soak: Routine = {
  suits: travels,
  prepare: (task) => allAtShare(task, 0),
  play: (task, score) => {
    const { seconds = 60 } = task.step.options;
    times(Math.max(1, Math.round(seconds / 20)), () => {
      score.ramp(allAtShare(task, 1), 10 - STANDS_S);
      score.hold(STANDS_S);
      score.ramp(allAtShare(task, 0), 10 - STANDS_S);
      score.hold(STANDS_S);
    });
  },
};

/** Longer than any fixture tests itself (common practice, no source). */
const LONGEST_OWN_TEST: Seconds = 120;

/** The fixture moves by its own program, deaf meanwhile: nothing is sent but dark and still, until it says that it is over. */
export const selfTest: Routine = {
  suits: anyFunction,
  prepare: () => [],
  play: (_task, score) => score.hold(LONGEST_OWN_TEST),
};

/** A lamp or a fan may have a slot of its own beside the control slot. */
const commandOf = (profile: Profile, is: Command["is"]): (Command & { readonly on: FunctionId }) | undefined => {
  const all = [...profile.functions].flatMap(([on, spec]) =>
    spec.kind === "commands" ? spec.commands.map((one) => ({ ...one, on })) : [],
  );
  return all.find((one) => one.is === is);
};

const command = (profile: Profile, score: Score, is: Command["is"]): void => {
  const found = commandOf(profile, is);
  if (!found) return;
  const rest = score.raw(found.on);
  score.jump([[found.on, found.at]]);
  score.hold(found.hold);
  score.jump([[found.on, rest]]);
  score.hold(found.deaf);
};
