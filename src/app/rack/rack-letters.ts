import { parseBench } from "../../data/bench/bench.ts";
import { placeInWords } from "../../data/rack/rack.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { keyPlan } from "../../ui/key-plan.ts";
import { letterOf } from "../../ui/rack-keys.ts";
import { load } from "../common/data.ts";
import { EXIT, type ExitCode } from "../common/exit.ts";
import { print, refuse } from "../common/print.ts";
import { loadDraft } from "./rack-data.ts";

/** A strip for each fixture, to be cut out and taped on: its letter is the same in the whole run. */
export const rackLetters = (name: string, benchName: string): ExitCode => {
  const draft = loadDraft(fileLibrary(), name);
  const bench = load(fileLibrary(), "benches", benchName, parseBench);
  if (!draft.ok) return refuse(draft.problems);
  if (!bench.ok) return refuse(bench.problems);
  const plan = keyPlan(bench.value.value.buttons);
  for (const [index, { serial, place }] of draft.value.value.rack.fixtures.entries())
    print(`${LINE}\n  ${letterOf(index, plan).label.padEnd(4)}${safeText(serial)}, ${safeText(placeInWords(place))}`);
  print(LINE);
  return EXIT.done;
};

const LINE = "-".repeat(60);
