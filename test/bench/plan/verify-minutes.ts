import { parseBench } from "../../../src/data/bench/bench.ts";
import { parseProfile } from "../../../src/data/profile/parse.ts";
import type { Profile } from "../../../src/data/profile/profile.ts";
import { parseSequence } from "../../../src/data/sequence/parse.ts";
import type { Result } from "../../../src/domain/problem/problem.ts";
import { type Seconds, secondsOf } from "../../../src/domain/units.ts";
import { fileLibrary } from "../../../src/io/files/files.ts";
import { compile } from "../../../src/plan/compile.ts";
import { slowStart } from "../../../src/plan/slow-moves.ts";
import { firstPart, secondPart, timesPart } from "../../../src/run/verification/steps.ts";
import { type Row, row } from "../line/row.ts";

const KINDS = ["spot-16bit", "spot-8bit", "wash", "beam", "led-wash", "hybrid", "framing"];

/** A person at the terminal: reads the safety page and agrees; reads a question and answers. Assumptions. */
const SAFETY: Seconds = 20;
const ANSWER: Seconds = 6;

/**
 * Minutes of `profile verify`: the movement of its three parts from the plan, with a simulated person who takes so long at each
 * question. Beside the times alone, in one go, stands all of it.
 */
export const verifyMinutesBench = (): readonly Row[] =>
  KINDS.flatMap((name) => {
    const profile = read("profiles", name, parseProfile);
    const [moves, ends, times] = [firstPart(profile), secondPart(profile), timesPart(profile)].map((text) =>
      partOf(profile, text),
    );
    const all = [moves, ends].reduce((sum, one) => sum + minutesOf(one), 0);
    return [
      row(`${name}: times alone, movement`, "min", (times?.movement ?? 0) / 60),
      row(`${name}: times alone, questions`, "", times?.questions ?? 0),
      row(`${name}: times alone with a person, beside what moves and where it ends`, "min", minutesOf(times), all),
    ];
  });

interface Part {
  readonly movement: Seconds;
  readonly questions: number;
}

const partOf = (profile: Profile, text: string | undefined): Part | undefined => {
  if (text === undefined) return undefined;
  const bench = read("benches", "bench", parseBench);
  const sequence = must(parseSequence("proof", text));
  const steps = compile(profile, sequence, bench).steps.filter(({ fitted }) => fitted);
  const frames = steps.reduce((sum, step) => sum + step.frames, slowStart(profile, profile.rest).frames);
  return { movement: secondsOf(frames), questions: steps.length };
};

const minutesOf = (part: Part | undefined): number =>
  part ? (SAFETY + part.movement + ANSWER * part.questions) / 60 : 0;

const read = <T>(kind: "profiles" | "benches", name: string, parse: (source: string, text: string) => Result<T>): T =>
  must(parse(name, fileLibrary(process.cwd()).read(kind, name)?.text ?? ""));

const must = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value;
};
