import { parseProfile } from "../../data/profile/parse.ts";
import type { Rack } from "../../data/rack/rack.ts";
import { bad, good, hintFor, problem, type Result } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { rackFromFound, rosterText } from "../../reports/rdm-text.ts";
import { LineError, type RdmDoor } from "../../run/ports.ts";
import { typedLines } from "../../ui/typed-lines.ts";
import { type Uid, uidIn, uidText } from "../../wire/rdm/packet.ts";
import { rosterOf } from "../../wire/rdm/roster.ts";
import { load, loadMaterial } from "../common/data.ts";
import type { BySerial } from "../common/options.ts";
import { complain, deliver, EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import { outputFor } from "../fixture/lines.ts";
import { loadDraft, rackNameFrom } from "../rack/rack-data.ts";
import { type RdmLine, rackRdmLines, rdmLineOn } from "./rdm-lines.ts";
import { survey } from "./survey.ts";

/** Where to ask: a rack's lines, or one line. */
export interface RdmWhere {
  readonly rack: string | undefined;
  readonly output: string;
  readonly to: string | undefined;
  readonly universe: number;
  readonly bench: string;
  readonly profile: string;
  readonly set: BySerial;
}

export interface FindOptions extends RdmWhere {
  readonly as: "text" | "json" | "rack";
  readonly out: string | undefined;
}

/** Lists everybody on all lines, beside the rack file where there is one. Nothing moves: no levels are sent meanwhile. */
export const findFixtures = async (options: FindOptions): Promise<ExitCode> => {
  const asked = await askedLines(options);
  if (!asked.ok) return refuse(asked.problems);
  const { lines, rack } = asked.value;
  const { found, notes } = await survey(lines, complain);
  for (const words of notes) complain(safeText(words));
  const roster = rosterOf(found, rack);
  if (options.as === "rack") return deliver(rackFromFound(found, kindsOnShelf(), nameOf(options.out)), options.out);
  if (options.as === "json") return deliver(JSON.stringify(roster.rows.map(plainRow), undefined, 2), options.out);
  print(
    rosterText(
      roster,
      lines.map(({ universe }) => universe),
      rack !== undefined,
    )
      .map(safeText)
      .join("\n"),
  );
  return found.length > 0 ? EXIT.done : EXIT.world;
};

const plainRow = ({ universe, identity, fixture, wrong }: ReturnType<typeof rosterOf>["rows"][number]) => ({
  universe,
  ...identity,
  rackSerial: fixture?.serial,
  wrong,
});

/** The lines to ask, with the rack where one was named; or what is wrong with the rack file or the output. */
const askedLines = async (
  where: RdmWhere,
): Promise<Result<{ readonly lines: readonly RdmLine[]; readonly rack: Rack | undefined }>> => {
  const shelf = fileLibrary();
  if (where.rack !== undefined) {
    const draft = loadDraft(shelf, where.rack);
    if (!draft.ok) return draft;
    const { rack } = draft.value.value;
    const lines = await rackRdmLines(rack, where.output, where.set);
    return lines.ok ? good({ lines: lines.value, rack }) : lines;
  }
  const material = loadMaterial(shelf, { profile: where.profile, sequence: "identify", bench: where.bench });
  if (!material.ok) return material;
  const output = outputFor(where, material.value.bench.value, where.universe);
  if (!output.ok) return output;
  const one = { serial: "SIM-1", profile: material.value.profile.value, address: 1, set: where.set.get("SIM-1") ?? [] };
  const line = await rdmLineOn(output.value, where.universe, [one]);
  return line.ok ? good({ lines: [line.value], rack: undefined }) : line;
};

const kindsOnShelf = () => {
  const shelf = fileLibrary();
  return shelf.names("profiles").flatMap((name) => {
    const loaded = load(shelf, "profiles", name, parseProfile);
    return loaded.ok ? [loaded.value.value] : [];
  });
};

const nameOf = (out: string | undefined): string => (out === undefined ? "found" : rackNameFrom(out));

/** One fixture that answers, and the door it is asked through. */
export interface AskedFixture {
  /** What the shop calls it: the rack file's serial number, else its own, else its UID. */
  readonly serial: string;
  readonly uid: Uid;
  readonly door: RdmDoor;
}

/**
 * Does some work with the fixture of this serial number, label or UID, wherever it is plugged in. Refused, with who
 * answered instead, where it did not answer; told, where its line fails meanwhile.
 */
export const withFixtureCalled = async (
  name: string,
  where: RdmWhere,
  work: (fixture: AskedFixture) => Promise<ExitCode>,
): Promise<ExitCode> => {
  const fixture = await fixtureCalled(name, where);
  if (!fixture.ok) return refuse(fixture.problems);
  try {
    return await work(fixture.value);
  } catch (error) {
    if (!(error instanceof LineError)) throw error;
    complain(safeText(error.message));
    return EXIT.world;
  }
};

const fixtureCalled = async (name: string, where: RdmWhere): Promise<Result<AskedFixture>> => {
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
