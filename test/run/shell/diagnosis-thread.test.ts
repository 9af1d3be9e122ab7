import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { expect, test } from "vitest";
import { diagnose, type Findings } from "../../../src/run/machine/diagnose.ts";
import { diagnosisThread } from "../../../src/run/shell/diagnosis-thread.ts";
import { built } from "../../kit/built.ts";
import { Driven, jobOf } from "../../kit/driven.ts";

const code = () => pathToFileURL(join(built(), "run", "shell", "diagnosis-worker.js"));

const findings = (step: "sweep: Pan" | "sweep: Tilt" = "sweep: Pan"): Findings => {
  const run = new Driven(jobOf([step])).started().playOut();
  const moved = step === "sweep: Pan" ? "Pan" : "Tilt";
  run.send({ kind: "symptom", symptom: { symptom: "grinds", function: moved } }).send({ kind: "confirm" });
  return run.effects.findLast((effect) => effect.kind === "diagnose")!.findings;
};

test("another thread answers what this one would", async () => {
  const thread = diagnosisThread(code());
  const asked = findings();
  expect(await thread.ask(asked)).toEqual(diagnose(asked));
  expect(await thread.ask(asked), "and once more").toEqual(diagnose(asked));
  await thread.close();
});

test("what stays the same travels once, and a question about another fixture brings its own along", async () => {
  const thread = diagnosisThread(code());
  const [one, other] = [findings("sweep: Pan"), findings("sweep: Tilt")];
  for (const asked of [one, { ...one, person: "LR" }, other, one])
    expect(await thread.ask(asked)).toEqual(diagnose(asked));
  await thread.close();
});

test("this thread goes on meanwhile", async () => {
  const thread = diagnosisThread(code());
  const asked = findings();
  let turns = 0;
  let over = false;
  const turn = () => {
    turns += 1;
    if (!over) setImmediate(turn);
  };
  turn();
  await thread.ask(asked);
  over = true;
  expect(turns).toBeGreaterThan(2);
  await thread.close();
});

test("a thread that cannot work is noted, and the run has its diagnosis all the same", async () => {
  const noted: string[] = [];
  const thread = diagnosisThread(pathToFileURL(join(built(), "no-such-file.js")), (what) => noted.push(what));
  const asked = findings();
  expect(await thread.ask(asked)).toEqual(diagnose(asked));
  expect(noted).toEqual(["diagnosis thread died", "diagnosis worked out on the thread of the frames"]);
  await thread.close();
});

test("a thread that died before anything was asked of it is noted too, and nobody waits for its answer", async () => {
  const noted: string[] = [];
  let died: () => void = () => {};
  const dead = new Promise<void>((resolve) => {
    died = resolve;
  });
  const thread = diagnosisThread(pathToFileURL(join(built(), "no-such-file.js")), (what) => {
    noted.push(what);
    died();
  });
  await dead;
  const asked = findings();
  expect(await thread.ask(asked)).toEqual(diagnose(asked));
  expect(noted.length).toBeGreaterThan(0);
  await thread.close();
});
