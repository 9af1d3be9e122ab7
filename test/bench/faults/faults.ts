import { spawnSync } from "node:child_process";
import { argv, execPath } from "node:process";
import { fileURLToPath, pathToFileURL } from "node:url";
import { infer } from "../../../src/diagnosis/model/infer.ts";
import { whatNext } from "../../../src/diagnosis/model/next.ts";
import { rank } from "../../../src/diagnosis/model/rank.ts";
import { runWith, SPOT } from "../../diagnosis/model/spot.ts";
import { type Row, row, table } from "../line/row.ts";
import { type Question, randomQuestion } from "./networks.ts";
import { shapeOf } from "./other-engine.ts";
import { textbookProbability } from "./textbook.ts";

/** Exact inference beside bayesjs's exact engine and the textbook sum; ranking and advice on a whole run of a spot. */
export const faultsBench = (limitSeconds = Number(process.env["SECONDS"] ?? 30)): readonly Row[] => [
  ...sizes(),
  ...besideOther(limitSeconds),
  ...besideTextbook(),
  ...wholeRun(),
];

const BIG = { faults: 80, symptoms: 200, parents: [2, 8] as const };

function sizes(): readonly Row[] {
  return [12, 14, 16, 18, 20].map((present) => {
    const question = randomQuestion({ ...BIG, present }, 7);
    return row(
      `infer, 80 faults, 200 symptoms, ${present} present`,
      "ms",
      median(present > 16 ? 3 : 9, () => ask(question)),
    );
  });
}

const ask = ({ network, evidence }: Question) => infer(network, evidence);

/** Grows the network until the other engine needs longer than the limit; each size in a process of its own. */
function besideOther(limitSeconds: number): readonly Row[] {
  const rows: Row[] = [];
  for (let faults = 4; faults <= 80; faults += 2) {
    const answer = otherEngine(faults, limitSeconds);
    if (!answer)
      return [
        ...rows.slice(-2),
        row(`other engine stopped: over ${limitSeconds} s or out of memory`, "faults", faults),
      ];
    const question = randomQuestion(shapeOf(faults), faults);
    const ours = ask(question);
    const apart = Math.max(
      ...question.network.faults.map(({ id }, i) => Math.abs((ours.posteriors[id] ?? 0) - (answer.posteriors[i] ?? 0))),
    );
    rows.push(
      row(
        `all posteriors, ${faults} faults, ${2 * faults} symptoms`,
        "ms",
        median(9, () => ask(question)),
        answer.ms,
      ),
    );
    rows.push(row(`  furthest apart, ${faults} faults`, "probability", apart));
  }
  return rows;
}

function otherEngine(faults: number, limitSeconds: number): { ms: number; posteriors: number[] } | undefined {
  const script = fileURLToPath(new URL("./other-engine.js", import.meta.url));
  const { status, stdout } = spawnSync(execPath, [script, `${faults}`], {
    timeout: limitSeconds * 1000,
    killSignal: "SIGKILL",
    encoding: "utf8",
  });
  return status === 0 ? JSON.parse(stdout) : undefined;
}

/** One fault, all links alike: P(e) has a closed form to hold both against. */
function besideTextbook(): readonly Row[] {
  const question = randomQuestion({ ...BIG, present: 12 }, 7);
  return [
    row(
      "probability of the evidence, 12 present",
      "ms",
      median(9, () => ask(question)),
      median(1, () => textbookProbability(question)),
    ),
    ...[8, 10, 12, 14].map((present) => {
      const weak = weakQuestion(present);
      const exact = 0.999 * 1e-3 ** present + 0.001 * (1e-3 + 1e-2 - 1e-5) ** present;
      const off = (value: number) => Math.abs(value / exact - 1);
      return row(
        `  relative error, ${present} present, weak links`,
        "of P(e)",
        off(ask(weak).probability),
        off(textbookProbability(weak)),
      );
    }),
  ];
}

const weakQuestion = (present: number): Question => {
  const symptoms = Array.from({ length: present }, (_, j) => ({ id: `s${j}`, leak: 1e-3, links: { only: 0.01 } }));
  return {
    network: { faults: [{ id: "only", prior: 0.001 }], symptoms },
    evidence: { present: symptoms.map(({ id }) => id), absent: [] },
  };
};

function wholeRun(): readonly Row[] {
  const run = runWith({ "sweep Iris": ["grinds", "jerks"], "snap Pan": ["swings-on"], "sweep Zoom": ["stalls"] });
  return [
    row(
      "rank a spot's run of 28 steps, with reasons",
      "ms",
      median(15, () => rank(SPOT, run)),
    ),
    row(
      "what to do next, all tests and looks",
      "ms",
      median(9, () => whatNext(SPOT, run)),
    ),
  ];
}

/** Milliseconds, after one round to warm up. */
function median(rounds: number, work: () => unknown): number {
  if (rounds > 1) work();
  const times = Array.from({ length: rounds }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  });
  return times.sort((a, b) => a - b)[Math.floor(rounds / 2)] ?? Number.NaN;
}

if (import.meta.url === pathToFileURL(argv[1] ?? "").href) console.log(table(faultsBench()));
