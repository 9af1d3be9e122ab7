import type { Bench } from "../data/bench/bench.ts";
import type { Profile, Raw } from "../data/profile/profile.ts";
import type { Sequence, Step } from "../data/sequence/sequence.ts";
import { type FunctionId, functionWords } from "../domain/trade/functions.ts";
import { ROUTINES, type RoutineId } from "../domain/trade/routines.ts";
import { framesIn, type Seconds } from "../domain/units.ts";
import { baseSetting, beamRaw, dark, lookFor, openBeam, type RawValues, shutBetween, staysInSector } from "./base.ts";
import { MOST_FLASHES, mostFlashes } from "./flashes.ts";
import { hold, inAndOut, rotate, sideBySide, stepThrough } from "./routines/positions.ts";
import { backlash, shake, shortSweep, snap, stopwatch, sweep } from "./routines/travel.ts";
import { comeBack, home, identify, powerUp, selfTest, soak } from "./routines/whole.ts";
import { mechanicalFloor, type Routine, Score, stepsShow, type Task, travelTime } from "./score.ts";
import type { CompiledStep, Move, Timeline } from "./timeline.ts";

/** After the last movement a press still counts: people take 0.3 to 0.6 s. */
const TAIL_S: Seconds = 0.5;

/** Works a sequence out for one profile on one bench. Steps that fit nothing of the fixture stay in, marked as not fitted. */
export const compile = (profile: Profile, sequence: Sequence, bench: Bench): Timeline => {
  let before: RawValues = profile.rest;
  const steps = sequence.steps.map((step) => {
    const compiled = compileStep(profile, bench, step, before, 1);
    if (compiled.fitted) before = settingAfter(compiled);
    return compiled;
  });
  return { profile, sequence: sequence.name, steps };
};

/** Whether a routine fits the fixture: with `id` on that function, without one on the fixture as a whole. */
export const canPlay = (profile: Profile, routine: RoutineId, id: FunctionId | undefined): boolean =>
  id === undefined
    ? PLAYS[routine].suits(profile, "Control1")
    : profile.functions.has(id) && PLAYS[routine].suits(profile, id);

/**
 * Works one step out as it follows on another setting. `pace` is a factor on the speed, above 0: at 0.5 the step is
 * played half as fast as the sequence says.
 */
export const compileStep = (
  profile: Profile,
  bench: Bench,
  step: Step,
  before: RawValues,
  pace: number,
): CompiledStep => {
  const routine = PLAYS[step.routine];
  const functions = step.functions.filter((id) => canPlay(profile, step.routine, id));
  const fitted = step.functions.length === 0 ? canPlay(profile, step.routine, undefined) : functions.length > 0;
  if (!fitted) return notFitted(step);
  const task: Task = { profile, bench, step, functions };
  const base = new Map([...baseSetting(profile, bench, step, lookFor(step)), ...routine.prepare(task)]);
  const score = new Score(profile, base, pace);
  routine.play(task, score);
  return assemble(task, base, score, before, pace);
};

/** In view where it may be; dark where it would flash too often; not at all where that cannot be helped. */
const assemble = (task: Task, base: RawValues, score: Score, before: RawValues, pace: number): CompiledStep => {
  const { profile, step } = task;
  const inSector = lookFor(step) !== "dark" && everyPlaceInSector(task, base, score.moves);
  const seen = assembled(task, base, score, { before, pace, open: inSector });
  const flashes = mostFlashes(profile, seen);
  if (flashes <= MOST_FLASHES) return { ...seen, flashes };
  const unseen = assembled(task, dark(profile, base), score, { before, pace, open: false });
  if (mostFlashes(profile, unseen) > MOST_FLASHES) return { ...notFitted(step), flashes, notes: [tooMany(flashes)] };
  return { ...unseen, flashes, notes: [...seen.notes, `beam shut: ${tooMany(flashes)}`] };
};

const tooMany = (flashes: number): string =>
  `${flashes} flashes in a second, and more than ${MOST_FLASHES} can bring a seizure on; a longer dwell_s or more seconds would do`;

interface StepStart {
  readonly before: RawValues;
  readonly pace: number;
  readonly open: boolean;
}

const assembled = (
  task: Task,
  base: RawValues,
  score: Score,
  { before, pace, open }: StepStart,
): Omit<CompiledStep, "flashes"> => {
  const { profile, step, functions } = task;
  const start = new Map([...base, ...beamRaw(profile, "shut"), ...functions.flatMap((id) => startsAt(base, id))]);
  const leadIn = framesIn(
    Math.max(
      shutBetween(task.bench),
      longest(profile, before, start),
      longest(profile, after(start, score.moves), start),
    ),
  );
  const opening = open ? openBeam(task, start, base, leadIn) : { moves: [], frames: 0 };
  const offset = leadIn + opening.frames;
  return {
    id: step.id,
    routine: step.routine,
    functions,
    fitted: true,
    watch: step.options.watch ?? ROUTINES[step.routine].watch,
    frames: offset + score.at + framesIn(TAIL_S),
    leadIn,
    start,
    moves: [...opening.moves, ...score.moves.map((move) => ({ ...move, start: move.start + offset }))],
    beam: open ? "open" : "shut",
    notes: notesOn(task, score.moves, open),
    floor: mechanicalFloor(profile, score.moves),
    pace,
    line: step.line,
  };
};

const notFitted = (step: Step): CompiledStep => ({
  id: step.id,
  routine: step.routine,
  functions: step.functions,
  fitted: false,
  watch: "",
  frames: 0,
  leadIn: 0,
  start: new Map(),
  moves: [],
  beam: "shut",
  flashes: 0,
  notes: ["not fitted: this fixture has no such function"],
  floor: 0,
  pace: 1,
  line: step.line,
});

/** A function under test starts where the routine wants it, also when it is the one that shuts the beam. */
const startsAt = (base: RawValues, id: FunctionId): readonly (readonly [FunctionId, Raw])[] => [
  [id, base.get(id) ?? 0],
];

const everyPlaceInSector = ({ profile, bench }: Task, base: RawValues, moves: readonly Move[]): boolean => {
  const places = (id: FunctionId) => [
    base.get(id) ?? 0,
    ...moves.filter((move) => move.function === id).flatMap(({ from, to }) => [from, to]),
  ];
  return staysInSector(profile, bench, places("Pan"), places("Tilt"));
};

const longest = (profile: Profile, from: RawValues, to: RawValues): Seconds =>
  Math.max(0, ...[...to].map(([id, raw]) => travelTime(profile, id, from.get(id) ?? raw, raw)));

const after = (start: RawValues, moves: readonly Move[]): RawValues =>
  new Map([...start, ...moves.map(({ function: id, to }) => [id, to] as const)]);

/** Where every function is commanded to stand when the step is over. */
export const settingAfter = (step: CompiledStep): RawValues => after(step.start, step.moves);

const notesOn = (task: Task, moves: readonly Move[], open: boolean): readonly string[] => {
  const { profile, step, functions } = task;
  const stepping = functions.filter((id) => {
    const spec = profile.functions.get(id);
    return spec?.kind === "travel" && moves.some((move) => move.function === id && stepsShow(spec, move));
  });
  const lacking = step.functions.filter((id) => !functions.includes(id)).map(functionWords);
  return [
    ...(stepping.length > 0
      ? [`${stepping.map(functionWords).join(", ")}: small even steps are the data, not the fixture`]
      : []),
    ...(lacking.length > 0 ? [`not fitted: ${lacking.join(", ")}`] : []),
    ...(!open && lookFor(step) !== "dark"
      ? ["beam shut: this movement leaves the directions in which the bench allows an open beam"]
      : []),
  ];
};

/** Every driven routine and how it is played. */
const PLAYS: Readonly<Record<RoutineId, Routine>> = {
  identify,
  "power-up": powerUp,
  home,
  sweep,
  "short-sweep": shortSweep,
  stopwatch,
  "step-through": stepThrough,
  rotate,
  "in-and-out": inAndOut,
  backlash,
  snap,
  shake,
  "side-by-side": sideBySide,
  hold,
  soak,
  return: comeBack,
  "self-test": selfTest,
};
