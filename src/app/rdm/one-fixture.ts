import { bad, good, hintFor, problem, type Result } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import type { RdmDoor } from "../../run/ports.ts";
import { typedLines } from "../../ui/typed-lines.ts";
import { rosterOf } from "../../wire/rdm/roster.ts";
import { type Uid, uidIn, uidText } from "../../wire/rdm/uid.ts";
import { complain } from "../common/output.ts";
import { askedLines, type RdmWhere } from "./rdm-find.ts";
import { survey } from "./survey.ts";

/** One fixture that answers, and the door it is asked through. */
export interface AskedFixture {
  /** What the shop calls it: the rack file's serial number, else its own, else its UID. */
  readonly serial: string;
  readonly uid: Uid;
  readonly door: RdmDoor;
}

/**
 * The fixture of this serial number, label or UID, wherever it is plugged in; or the problem that it did
 * not answer, with who answered instead.
 */
export const fixtureCalled = async (name: string, where: RdmWhere): Promise<Result<AskedFixture>> => {
  const asked = await askedLines(where);
  if (!asked.ok) return asked;
  const { lines, rack } = asked.value;
  const { found, notes } = await survey(lines, complain);
  for (const words of notes) complain(safeText(words));
  const wanted = uidIn(name);
  const { rows } = rosterOf(found, rack);
  const called = rows.map((row) => ({
    row,
    names: [row.fixture?.serial, row.identity.serial, row.identity.label, row.identity.uid],
  }));
  const hits = called.filter(({ row, names }) =>
    wanted === undefined ? names.includes(name) : row.identity.uid === uidText(wanted),
  );
  const [hit, ...more] = hits;
  const door = hit && lines.find(({ universe }) => universe === hit.row.universe)?.door;
  if (!hit || !door) {
    const known = called.flatMap(({ names }) => names.flatMap((one) => (one === undefined || one === "" ? [] : [one])));
    return bad(
      problem(name, "nobody answers to this name", hintFor(name, known) ?? '"limber rdm find" lists who answers'),
    );
  }
  if (more.length > 0) return bad(problem(name, `${hits.length} fixtures answer to this name`, "name it by its UID"));
  const { identity, fixture } = hit.row;
  return good({ serial: fixture?.serial ?? (identity.serial || identity.uid), uid: uidIn(identity.uid) ?? 0, door });
};

/** A plain yes before something is changed in a fixture; anything else, and the end of the input, is a no. */
export const saysYes = async (question: string): Promise<boolean> => {
  const lines = typedLines();
  try {
    lines.say(`${question} Type yes to do it. Anything else: nothing is done.`);
    return (await lines.next())?.trim().toLowerCase() === "yes";
  } finally {
    lines.close();
  }
};
