import { placeInWords, type Rack, type StartAddress, startInWords } from "../../data/rack/rack.ts";
import { hintFor } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import { type TypedLines, typedLines } from "../../ui/typed-lines.ts";
import { identify } from "../../wire/rdm/commands.ts";
import { type RosterRow, rosterOf } from "../../wire/rdm/roster.ts";
import { uidIn } from "../../wire/rdm/uid.ts";
import { complain } from "../common/output.ts";
import type { RdmLine } from "./rdm-lines.ts";
import { IT_MAY_MOVE, inTalk, survey } from "./survey.ts";

/** What came of letting fixtures show themselves: where each really listens, by its serial number in the rack file. */
export type SelfShown =
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
export const showThemselves = async (rack: Rack, asked: readonly RdmLine[]): Promise<SelfShown> => {
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
