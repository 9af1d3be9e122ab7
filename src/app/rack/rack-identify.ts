import { placeInWords, type Rack, startInWords } from "../../data/rack/rack.ts";
import { type Really, reallySet } from "../../data/rack/really.ts";
import { NOTHING_LEARNED } from "../../diagnosis/model/shop.ts";
import { problem } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import { fileShelf } from "../../io/files/files.ts";
import { type Batch, openBatch } from "../../run/batch/batch.ts";
import { identifyTurns } from "../../run/batch/turns.ts";
import { EXIT, type ExitCode } from "../common/exit.ts";
import { print, refuse } from "../common/print.ts";
import { openHere } from "../journal/with-journal.ts";
import { loadDraft } from "./rack-data.ts";
import { loadRackMaterial } from "./rack-material.ts";
import { prepareRack } from "./rack-prepare.ts";
import { carryOutRack, type RackRunOptions } from "./rack-run.ts";
import { writeAddresses } from "./rack-write.ts";

export interface IdentifyOptions extends RackRunOptions {
  readonly bench: string;
  readonly deliver: "print" | "write";
}

/** One address after the other wiggles and dips; a person says who really did, and the rack file is put right when told to. */
export const identifyRack = async (file: string, options: IdentifyOptions): Promise<ExitCode> => {
  const shelf = fileShelf();
  const material = loadRackMaterial(shelf, { rack: file, sequence: "identify", bench: options.bench });
  if (!material.ok) return refuse(material.problems);
  const rack = material.value.rack.value;
  const ready = prepareRack(shelf, material.value, { ...options, learned: NOTHING_LEARNED, seed: 1 });
  if (!ready.ok) return refuse(ready.problems);
  const { plan, members } = ready.value.job;
  const asking = { ...plan, turns: identifyTurns(rack.fixtures, 0), asks: "who-moved" } as const;
  const journal = await openHere(options.journal);
  try {
    const batch = openBatch(asking, members, options.person);
    return await carryOutRack(options, ready.value, batch, journal, async (ended) =>
      tellWhoIsWhere(file, rack, ended, options),
    );
  } finally {
    await journal.close();
  }
};

const tellWhoIsWhere = (file: string, rack: Rack, ended: Batch, { deliver }: IdentifyOptions): ExitCode => {
  const really = reallySet(rack, ended.record.answers);
  const changes = changesOf(rack, really);
  for (const words of [...changes, ...really.open.map((one) => `! ${one}`)]) print(safeText(words));
  const whole = ended.stage.kind === "finished" && ended.stage.how === "finished";
  if (!whole) print("Stopped before every address was asked: nothing is written.");
  else if (changes.length === 0) print("No address in the file was found to be wrong.");
  else if (deliver === "write") return writeFound(file, really);
  else print("Nothing is written; --write puts these addresses into the file.");
  return whole ? EXIT.done : EXIT.stopped;
};

const writeFound = (file: string, really: Really): ExitCode => {
  if (really.clashes.length > 0)
    return refuse(really.clashes.map((words) => problem(file, words, "read their panels; nothing is written")));
  const draft = loadDraft(fileShelf(), file);
  return draft.ok ? writeAddresses(draft.value.value, really.fixtures) : refuse(draft.problems);
};

/** "SP-102 (top, 2nd from the left) listens at universe 1, address 31, and not at universe 1, address 61." */
const changesOf = (rack: Rack, { fixtures }: Really): readonly string[] =>
  fixtures.flatMap(({ serial, place, start }, index) => {
    const [is, was] = [startInWords(start), startInWords(rack.fixtures[index]?.start)];
    return is === was ? [] : [`${serial} (${placeInWords(place)}) listens at ${is}, and not at ${was}.`];
  });
