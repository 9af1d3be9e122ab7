import { type Bench, parseBench } from "../../data/bench/bench.ts";
import { parseProfile, type ReadProfile, readProfile } from "../../data/profile/parse.ts";
import type { Profile } from "../../data/profile/profile.ts";
import { parseSequence } from "../../data/sequence/parse.ts";
import { knownOf } from "../../diagnosis/places/known.ts";
import { type Quickness, USUAL_QUICKNESS } from "../../diagnosis/places/stopwatch.ts";
import { bad, good, problem, type Result } from "../../domain/problem/problem.ts";
import { framesIn } from "../../domain/units.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { fileLog } from "../../io/log/file.ts";
import { memoryJournal } from "../../io/store/memory.ts";
import { silentVoice } from "../../io/voice/speech.ts";
import type { CompiledStep } from "../../plan/timeline.ts";
import type { RunView } from "../../run/events/view.ts";
import { openSession, type Session } from "../../run/session/session.ts";
import { systemSignals } from "../../run/shell/signals.ts";
import type { ProofAnswer } from "../../run/verification/questions.ts";
import { Prover } from "../../ui/prover.ts";
import type { TypedLines } from "../../ui/typed-lines.ts";
import { type Loaded, load, type Material } from "../common/data.ts";
import { constantsIn } from "../fixture/fixture-past.ts";
import { jobFor } from "../fixture/job.ts";
import { playRun, realTime } from "../fixture/play-run.ts";
import { type LineEnd, type RigOptions, rigFor } from "../fixture/rig.ts";
import { openHere } from "../journal/with-journal.ts";
import { sightOf, warmUp } from "../simulated/sim-bench.ts";

/** What is to be proved, and on what. */
export interface ProofOrder extends RigOptions {
  readonly file: string;
  readonly bench: string;
  readonly universe: number;
  readonly address: number;
  /** Whose presses time it; known to the journal when they have pressed often enough. */
  readonly person: string;
  readonly journal: string;
  /** What the simulated fixture really is; the profile itself when not said. */
  readonly really: string | undefined;
  /** Leave out what moves and where it ends: only the times that matter, by the stopwatch, in one go. */
  readonly timesOnly: boolean;
}

/** Everything a proof needs but the person. */
export interface Prepared extends Omit<ProofPart, "lines" | "quickness"> {
  readonly read: Loaded<ReadProfile>;
}

/** Reads the profile and bench and sets up what stands at the other end; or everything that is wrong with the order. */
export const prepareProof = (order: ProofOrder): Result<Prepared> => {
  const shelf = fileLibrary();
  const read = load(shelf, "profiles", order.file, readProfile);
  const bench = load(shelf, "benches", order.bench, parseBench);
  if (!read.ok || !bench.ok) return bad(...(read.ok ? [] : read.problems), ...(bench.ok ? [] : bench.problems));
  if (!/[/\\]|\.ya?ml$/.test(order.file))
    return bad(
      problem(order.file, "this profile comes with Limber and is not changed", "copy it, and verify the copy"),
    );
  const rig = rigOf(order, read.value, bench.value);
  const { universe, address } = order;
  return rig.ok ? good({ rig: rig.value, bench: bench.value, universe, address, read: read.value }) : rig;
};

/** A simulated fixture is up and lit when the proof begins, as the person sees to with a real one. */
const rigOf = (order: ProofOrder, { value, text }: Loaded<ReadProfile>, bench: Loaded<Bench>): Result<LineEnd> => {
  const told = good({ value: value.profile, text });
  const real = order.really === undefined ? told : load(fileLibrary(), "profiles", order.really, parseProfile);
  if (!real.ok) return real;
  const rig = rigFor(order, { profile: real.value, sequence: NOTHING, bench }, order.address, order.universe);
  if (!rig.ok) return rig;
  if (order.really !== undefined && !rig.value.simulated)
    return bad(problem("--really", "only on the simulated bench", "--output sim"));
  if (rig.value.bench) warmUp(rig.value.bench.line, framesToReady(real.value.value));
  return rig;
};

/** The steps are made later, for what the profile then says. */
const NOTHING = { value: { name: "proof", title: "", steps: [], byHand: [] }, text: "" };

const framesToReady = ({ powerUp, lamp }: Profile) => framesIn(powerUp + lamp.strike + lamp.warm);

/** How quickly somebody presses: their own where their presses are kept, else what is usual. */
export const measuredQuickness = async ({ person, journal }: ProofOrder): Promise<Quickness> => {
  if (person === "") return USUAL_QUICKNESS;
  const kept = await openHere(journal);
  try {
    return knownOf(await constantsIn(kept), person, "").quickness;
  } finally {
    await kept.close();
  }
};

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
  /** How quickly the person at the lines presses. */
  readonly quickness: Quickness;
}

/**
 * Plays one part with the person at the lines; or what is wrong with it. Nothing of it goes into the journal: it
 * tells of a profile, not of a fixture.
 */
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
    frames: await rig.frames(log),
    questions: new Map(),
    journal: memoryJournal(),
    watcher: (frame) => {
      const sight = rig.bench && sightOf(rig.bench.line);
      prover = new Prover(lines, frame, sight && (() => sight()[0]));
      return prover;
    },
    voice: silentVoice,
    log,
    byHand: rig.byHand,
    signals: systemSignals,
  });
  prover?.close();
  const answers = [...(prover?.answers.values() ?? [])];
  return {
    ok: true,
    value: { profile: profile.value, answers, steps: job.value.timeline.steps, view: ended.view, ended },
  };
};
