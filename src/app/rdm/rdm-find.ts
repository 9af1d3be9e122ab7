import { parseProfile } from "../../data/profile/parse.ts";
import type { Rack } from "../../data/rack/rack.ts";
import { good, type Result } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { rackFromFound, rosterText } from "../../reports/rdm-text.ts";
import { rosterOf } from "../../wire/rdm/roster.ts";
import { load, loadMaterial } from "../common/data.ts";
import { complain, deliver, EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import { outputFor } from "../fixture/lines.ts";
import { loadDraft } from "../rack/rack-data.ts";
import { type RdmLine, rackRdmLines, rdmLineOn, type SetBySerial } from "./rdm-lines.ts";
import { survey } from "./survey.ts";

/** Where to ask: a rack's lines, or one line. */
export interface RdmWhere {
  readonly rack: string | undefined;
  readonly output: string;
  readonly to: string | undefined;
  readonly universe: number;
  readonly bench: string;
  readonly profile: string;
  readonly set: SetBySerial;
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
export const askedLines = async (
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

const nameOf = (out: string | undefined): string =>
  out
    ?.replace(/^.*[\\/]/, "")
    .replace(/\.ya?ml$/, "")
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, "-") || "found";
