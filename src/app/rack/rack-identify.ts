import { type Really, reallyAt, reallySet } from "../../data/rack/addresses.ts";
import { placeInWords, type Rack, type StartAddress, startInWords } from "../../data/rack/rack.ts";
import { NOTHING_LEARNED } from "../../diagnosis/model/shop.ts";
import { good, hintFor, problem, type Result } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { openBatch } from "../../run/batch/batch.ts";
import { identifyTurns } from "../../run/batch/turns.ts";
import { type TypedLines, typedLines } from "../../ui/typed-lines.ts";
import { identify } from "../../wire/rdm/commands.ts";
import { uidIn } from "../../wire/rdm/packet.ts";
import { type RosterRow, rosterOf } from "../../wire/rdm/roster.ts";
import { complain, EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import { openHere } from "../journal/with-journal.ts";
import { type RdmLine, rackRdmLines } from "../rdm/rdm-lines.ts";
import { IT_MAY_MOVE, inTalk, survey } from "../rdm/survey.ts";
import { loadDraft, loadRackMaterial } from "./rack-data.ts";
import { writeAddresses } from "./rack-file.ts";
import { prepareRack } from "./rack-job.ts";
import { rackOutputs } from "./rack-lines.ts";
import { carryOutRack, type RackRunOptions } from "./rack-run.ts";

export interface IdentifyOptions extends RackRunOptions {
  readonly bench: string;
  readonly deliver: "print" | "write";
}

/** Fixtures that answer over RDM show themselves; else one address after the other wiggles and dips. A person says who really did, and the rack file is put right when told to. */
export const identifyRack = async (file: string, options: IdentifyOptions): Promise<ExitCode> => {
  const shelf = fileLibrary();
  const material = loadRackMaterial(shelf, { rack: file, sequence: "identify", bench: options.bench });
  if (!material.ok) return refuse(material.problems);
  const rack = material.value.rack.value;
  if (options.rdm !== "never") {
    const shown = await shownOverRdm(rack, options);
    if (!shown.ok) return refuse(shown.problems);
    if (shown.value.kind === "asked")
      return tellWhoIsWhere(
        file,
        rack,
        { really: reallyAt(rack, shown.value.starts), whole: shown.value.all },
        options,
      );
  }
  const ready = prepareRack(shelf, material.value, { ...options, learned: NOTHING_LEARNED, seed: 1 });
  if (!ready.ok) return refuse(ready.problems);
  const { plan, members } = ready.value.job;
  const asking = { ...plan, turns: identifyTurns(rack.fixtures, 0), asks: "who-moved" } as const;
  const journal = await openHere(options.journal);
  try {
    const batch = openBatch(asking, members, options.person);
    return await carryOutRack(options, ready.value, batch, journal, async (ended) =>
      tellWhoIsWhere(
        file,
        rack,
        {
          really: reallySet(rack, ended.record.answers),
          whole: ended.stage.kind === "finished" && ended.stage.how === "finished",
        },
        options,
      ),
    );
  } finally {
    await journal.close();
  }
};

/** Simulated fixtures are asked only where somebody says so: there the usual is to try the movement. */
const shownOverRdm = async (rack: Rack, { output, set, rdm }: IdentifyOptions): Promise<Result<SelfShown>> => {
  const outputs = rackOutputs(rack, output);
  if (!outputs.ok) return outputs;
  const isReal = [...outputs.value.values()].some(({ kind }) => kind === "serial" || kind === "artnet");
  if (!isReal && rdm !== "always") return good({ kind: "not this way" });
  const lines = await rackRdmLines(rack, output, set);
  if (!lines.ok) return lines;
  const asked = lines.value.filter(({ name, door }) => door && (rdm === "always" || name !== "sim"));
  return good(asked.length === 0 ? { kind: "not this way" } : await showThemselves(rack, asked));
};

interface FoundSettings {
  readonly really: Really;
  readonly whole: boolean;
}

const tellWhoIsWhere = (
  file: string,
  rack: Rack,
  { really, whole }: FoundSettings,
  { deliver }: IdentifyOptions,
): ExitCode => {
  const changes = changesOf(rack, really);
  for (const words of [...changes, ...really.open.map((one) => `! ${one}`)]) print(safeText(words));
  if (!whole) print("Stopped before every address was asked: nothing is written.");
  else if (changes.length === 0) print("No address in the file was found to be wrong.");
  else if (deliver === "write") return writeFound(file, really);
  else print("Nothing is written; --write puts these addresses into the file.");
  return whole ? EXIT.done : EXIT.stopped;
};

const writeFound = (file: string, really: Really): ExitCode => {
  if (really.clashes.length > 0)
    return refuse(really.clashes.map((words) => problem(file, words, "read their panels; nothing is written")));
  const draft = loadDraft(fileLibrary(), file);
  return draft.ok ? writeAddresses(draft.value.value, really.fixtures) : refuse(draft.problems);
};

/** "SP-102 (top, 2nd from the left) listens at universe 1, address 31, and not at universe 1, address 61." */
const changesOf = (rack: Rack, { fixtures }: Really): readonly string[] =>
  fixtures.flatMap(({ serial, place, start }, index) => {
    const [is, was] = [startInWords(start), startInWords(rack.fixtures[index]?.start)];
    return is === was ? [] : [`${serial} (${placeInWords(place)}) listens at ${is}, and not at ${was}.`];
  });

/** What came of letting fixtures show themselves: where each really listens, by its serial number in the rack file. */
type SelfShown =
  /** Nobody answers, or nobody wants it so: they can still be asked by moving them. */
  | { readonly kind: "not this way" }
  | {
      readonly kind: "asked";
      readonly starts: ReadonlyMap<string, StartAddress>;
      readonly all: boolean;
    };

/**
 * Every fixture that answers shows itself (IDENTIFY_DEVICE, ANSI E1.20), one after the other, and a person says which it is.
 * No levels are sent, so nothing else moves; where it listens it says itself.
 */
const showThemselves = async (rack: Rack, asked: readonly RdmLine[]): Promise<SelfShown> => {
  const { found, notes } = await survey(asked, complain);
  for (const words of notes) complain(safeText(words));
  const rows = rosterOf(found, rack).rows.filter(({ identity }) => identity.address !== undefined);
  if (rows.length === 0) return { kind: "not this way" };
  const lines = typedLines();
  try {
    lines.say(
      `${rows.length} of ${rack.fixtures.length} answer over the cable and can show themselves. ${IT_MAY_MOVE}`,
    );
    lines.say("Let them show themselves, one after the other? Type yes, or anything else to move them instead.");
    if ((await lines.next())?.trim().toLowerCase() !== "yes") return { kind: "not this way" };
    return await askEach(rows, rack, asked, lines);
  } finally {
    lines.close();
  }
};

const askEach = async (
  rows: readonly RosterRow[],
  rack: Rack,
  asked: readonly RdmLine[],
  lines: TypedLines,
): Promise<SelfShown> => {
  const starts = new Map<string, StartAddress>();
  for (const row of rows) {
    const answer = await whoShows(row, rack, asked, lines);
    if (answer === undefined) return { kind: "asked", starts, all: false };
    const { address } = row.identity;
    if (answer !== "" && address !== undefined) starts.set(answer, { universe: row.universe, slot: address });
  }
  return { kind: "asked", starts, all: true };
};

/** The serial number of the one that shows itself; "" for none, undefined to stop. It is told to stop showing itself whatever is answered. */
const whoShows = async (
  { identity, universe, fixture }: RosterRow,
  rack: Rack,
  asked: readonly RdmLine[],
  lines: TypedLines,
): Promise<string | undefined> => {
  const door = asked.find((line) => line.universe === universe)?.door;
  const uid = uidIn(identity.uid);
  if (!door || uid === undefined) return "";
  const trouble = await inTalk(door, identify(uid, "on"));
  if (trouble !== undefined) {
    complain(safeText(`${identity.uid}: ${trouble}`));
    return "";
  }
  try {
    const where = startInWords({ universe, slot: identity.address ?? 0 });
    const guess = fixture ? `, ENTER for ${fixture.serial} (${placeInWords(fixture.place)})` : "";
    lines.say(safeText(`${identity.uid}, ${where}, shows itself. Which is it? Serial number${guess}, none, or stop.`));
    return await serialFrom(lines, rack, fixture?.serial ?? "");
  } finally {
    const still = await inTalk(door, identify(uid, "off"));
    if (still !== undefined) complain(safeText(`${identity.uid} may still show itself: ${still}`));
  }
};

const serialFrom = async (lines: TypedLines, { fixtures }: Rack, guess: string): Promise<string | undefined> => {
  const serials = fixtures.map(({ serial }) => serial);
  for (;;) {
    const typed = (await lines.next())?.trim();
    if (typed === undefined || typed === "stop") return undefined;
    if (typed === "none") return "";
    const serial = typed === "" ? guess : serials.find((one) => one.toLowerCase() === typed.toLowerCase());
    if (serial !== undefined && serial !== "") return serial;
    lines.say(
      safeText(`"${typed}" is not in the rack file. ${hintFor(typed, serials) ?? "Its serial number, none, or stop."}`),
    );
  }
};
