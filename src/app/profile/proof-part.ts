import type { Profile } from "../../data/profile/profile.ts";
import { parseSequence } from "../../data/sequence/parse.ts";
import type { Quickness } from "../../diagnosis/places/stopwatch.ts";
import type { Result } from "../../domain/problem/problem.ts";
import { fileLog } from "../../io/log/file.ts";
import { memoryJournal } from "../../io/store/memory.ts";
import { silentVoice } from "../../io/voice/silent.ts";
import type { CompiledStep } from "../../plan/timeline.ts";
import type { RunView } from "../../run/events/view.ts";
import { openSession, type Session } from "../../run/session/session.ts";
import { systemMishaps, systemSignals } from "../../run/shell/signals.ts";
import type { ProofAnswer } from "../../run/verification/questions.ts";
import { Prover } from "../../ui/prover.ts";
import type { TypedLines } from "../../ui/typed-lines.ts";
import type { Material } from "../common/data.ts";
import { realTime } from "../common/pace.ts";
import { jobFor } from "../fixture/job.ts";
import { playRun } from "../fixture/play-run.ts";
import type { LineEnd } from "../fixture/rig.ts";
import { sightOf } from "../simulated/sim-sight.ts";

/** What came of one part of a proof. */
export interface PlayedProof {
  readonly profile: Profile;
  readonly answers: readonly ProofAnswer[];
  readonly steps: readonly CompiledStep[];
  readonly view: RunView;
  readonly ended: Session;
}

export interface ProofPart {
  readonly rig: LineEnd;
  readonly bench: Material["bench"];
  readonly universe: number;
  readonly address: number;
  readonly lines: TypedLines;
  /** Of the person at the lines. */
  readonly quickness: Quickness;
}

/** Plays one part with the person at the lines. Nothing of it goes into the journal: it tells of a profile, not of a fixture. */
export const playPart = async (
  { rig, bench, universe, address, lines }: ProofPart,
  profile: Material["profile"],
  sequenceText: string,
): Promise<Result<PlayedProof>> => {
  const sequence = parseSequence("proof.yaml", sequenceText);
  if (!sequence.ok) throw new Error("Bug: the steps of a proof are no sequence");
  const material = { profile, sequence: { value: sequence.value, text: sequenceText }, bench };
  const { output, simulated, set } = rig;
  const order = {
    serial: "proof",
    universe,
    address,
    output,
    simulated,
    set,
    mode: "attended",
    replays: undefined,
    hire: undefined,
  } as const;
  const job = jobFor(material, order);
  if (!job.ok) return job;
  const log = fileLog();
  let prover: Prover | undefined;
  const ended = await playRun(openSession(job.value, ""), "proof", {
    ...realTime(simulated ? "all simulated" : "real", log),
    line: await rig.open(),

    asked: undefined,
    journal: memoryJournal(),
    watcher: (frame) => {
      prover = new Prover(lines, frame, rig.bench && sightOf(rig.bench.line));
      return prover;
    },
    voice: silentVoice,
    log,
    byHand: rig.byHand,
    signals: systemSignals,
    mishaps: systemMishaps,
  });
  prover?.close();
  const answers = [...(prover?.answers.values() ?? [])];
  return {
    ok: true,
    value: { profile: profile.value, answers, steps: job.value.timeline.steps, view: ended.view, ended },
  };
};
