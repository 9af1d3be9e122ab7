import { safeText } from "../../domain/problem/shown-text.ts";
import { LineError, type RdmDoor } from "../../run/ports.ts";
import { NO_RDM, talk, whileOpen } from "../../run/shell/rdm-talk.ts";
import type { Dialogue } from "../../wire/rdm/dialogue.ts";
import { type Discovery, discover } from "../../wire/rdm/discovery.ts";
import { readIdentity } from "../../wire/rdm/identity.ts";
import { type Uid, uidText } from "../../wire/rdm/packet.ts";
import type { FoundFixture } from "../../wire/rdm/roster.ts";
import { print } from "../common/output.ts";
import type { RdmLine } from "./rdm-lines.ts";

/** It is the fixture that decides what it does when it is told to show or to test itself. */
export const IT_MAY_MOVE =
  "It may light up, strobe or move by itself: everybody clear of it, nobody looks into the lens, and it stands or hangs safely.";

/** All that was found on all lines, and what could not be asked, a sentence each. */
export interface Survey {
  readonly found: readonly FoundFixture[];
  readonly notes: readonly string[];
}

/** Searches one line after the other and asks everybody who they are. A line that fails is a sentence; the others are asked. */
export const survey = async (lines: readonly RdmLine[], tell: (words: string) => void = print): Promise<Survey> => {
  const [found, notes]: [FoundFixture[], string[]] = [[], []];
  for (const line of lines) {
    if (line.words !== "") tell(safeText(line.words));
    if (!line.door) continue;
    try {
      await line.door.open();
      const who = await whoIsOn(line.door);
      notes.push(...who.notes.map((words) => `Universe ${line.universe}: ${words}`));
      found.push(...(await identities(line, line.door, who.uids)));
    } catch (error) {
      if (!(error instanceof LineError)) throw error;
      notes.push(`Universe ${line.universe}: ${error.message}.`);
    } finally {
      await line.door.close();
    }
  }
  return { found, notes };
};

/** Opens a line for one talk and closes it again; undefined with a sentence where it does no RDM. */
export const inTalk = <T>(door: RdmDoor, dialogue: Dialogue<T>): Promise<T | string> =>
  whileOpen(door, async () => {
    const said = await talk(dialogue, door);
    return said.kind === "done" ? said.value : `${door.name}: ${NO_RDM}`;
  });

const whoIsOn = async (
  door: RdmDoor,
): Promise<{ readonly uids: readonly Uid[]; readonly notes: readonly string[] }> => {
  if (door.searched.kind === "by-gateway") {
    const uids = await door.searched.table();
    return { uids, notes: uids.length === 0 ? ["the gateway names no fixture: does it do RDM, and is RDM on?"] : [] };
  }
  const bar = progressBar();
  const searched = await talk(discover(), door, {
    aside: (said) => said.kind === "progress" && bar.show(said.done, undefined),
  });
  bar.clear();
  if (searched.kind === "no-rdm") return { uids: [], notes: [`${NO_RDM}.`] };
  return { uids: searched.value.found.map(({ uid }) => uid), notes: notesOf(searched.value) };
};

const notesOf = ({ found, talkative, garbled, phantoms, ended }: Discovery): readonly string[] => [
  ...(ended === "noise" ? ["the line is too noisy to search: look at terminator, cable and splitter."] : []),
  ...talkative.map((uid) => `${uidText(uid)} does not mute when asked: others may be hidden behind it.`),
  ...garbled.map((uid) => `${uidText(uid)} never answers cleanly: two fixtures may have this one number.`),
  ...phantoms.map((uid) => `${uidText(uid)} showed up and never confirmed itself: left out.`),
  ...found.filter(({ proxy }) => proxy).map(({ uid }) => `${uidText(uid)} answers for others behind it.`),
];

const identities = async (
  { universe }: RdmLine,
  door: RdmDoor,
  uids: readonly Uid[],
): Promise<readonly FoundFixture[]> => {
  const bar = progressBar();
  const found: FoundFixture[] = [];
  for (const [index, uid] of uids.entries()) {
    bar.show(index, uids.length);
    const said = await talk(readIdentity(uid), door);
    if (said.kind === "done") found.push({ universe, identity: said.value });
  }
  bar.clear();
  return found;
};

const CELLS = 24;
/** A line that is overwritten, on a terminal only. How many there are is not known while they are searched. */
const progressBar = () => {
  const { stderr } = process;
  const write = (text: string) => stderr.isTTY && stderr.write(`\r${text}\u001b[K`);
  return {
    show: (done: number, of: number | undefined) => {
      if (of === undefined) return write(`searching: ${done} found`);
      const full = Math.round((CELLS * done) / Math.max(1, of));
      return write(`reading ${done} of ${of} ${"=".repeat(full)}${".".repeat(CELLS - full)}`);
    },
    clear: () => write(""),
  };
};
