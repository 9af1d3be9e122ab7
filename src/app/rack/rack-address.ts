import { type AddressPlan, planAddresses } from "../../data/rack/addresses.ts";
import type { RackDraft } from "../../data/rack/parse.ts";
import { placeInWords, type Rack } from "../../data/rack/rack.ts";
import { problem } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { addressList } from "../../reports/rack.ts";
import { uidIn } from "../../wire/rdm/packet.ts";
import { type RosterRow, rosterOf } from "../../wire/rdm/roster.ts";
import { setAddress } from "../../wire/rdm/settings.ts";
import type { BySerial } from "../common/options.ts";
import { complain, EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import type { WhenAsked } from "../fixture/rig.ts";
import { saysYes } from "../rdm/rdm-find.ts";
import { type RdmLine, rackRdmLines } from "../rdm/rdm-lines.ts";
import { inTalk, survey } from "../rdm/survey.ts";
import { loadDraft, loadRack } from "./rack-data.ts";
import { writeAddresses } from "./rack-file.ts";
import { rackOutputs } from "./rack-lines.ts";

export interface AddressOrder {
  readonly existing: "keep" | "anew";
  readonly deliver: "print" | "write";
  /** "sim": every line a simulated one, whose fixtures are asked too; empty for what the rack file says. */
  readonly output: string;
  readonly set: BySerial;
  readonly rdm: WhenAsked;
}

/**
 * Proposes an address for every fixture of a rack, prints the list to set them by, and writes them into the file when told
 * to. Then fixtures that answer over the cable are set themselves, after a yes, and read back.
 */
export const addressRack = async (name: string, order: AddressOrder): Promise<ExitCode> => {
  const { existing, deliver } = order;
  const draft = loadDraft(fileLibrary(), name);
  if (!draft.ok) return refuse(draft.problems);
  const { rack } = draft.value.value;
  const plan = planAddresses(rack, existing);
  print(
    addressList(rack, plan.fixtures)
      .map((page) => page.map(safeText).join("\n"))
      .join("\n\n\n"),
  );
  if (plan.left.length > 0) return refuse([noRoom(draft.value.value, plan)]);
  if (deliver === "write") {
    const written = writeAddresses(draft.value.value, plan.fixtures);
    return written === EXIT.done ? setThemselves({ ...rack, fixtures: plan.fixtures }, order) : written;
  }
  print("\nNothing is written; --write puts them into the file.");
  return EXIT.done;
};

/** Nothing is asked where every line is simulated, unless somebody says so. */
const setThemselves = async (rack: Rack, { output, set, rdm }: AddressOrder): Promise<ExitCode> => {
  const outputs = rackOutputs(rack, output);
  if (!outputs.ok) return refuse(outputs.problems);
  const canAnswer = [...outputs.value.values()].some(
    ({ kind }) => kind === "serial" || kind === "artnet" || (kind === "sim" && rdm === "always"),
  );
  if (!canAnswer || rdm === "never") return EXIT.done;
  const ended = await setOverRdm(rack, output, set);
  if (ended !== "nobody answers") return ended;
  print("Nobody answers over the cable: set the addresses at the panels, by this list.");
  return EXIT.done;
};

const noRoom = ({ file, rack }: RackDraft, { left }: AddressPlan) =>
  problem(
    file.source,
    `no room on universe ${rack.lines.map(({ universe }) => universe).join(", ")} for ${left.map(({ serial }) => serial).join(", ")}`,
    "add a DMX line under lines, or branches where a line has 32 unit loads",
  );

export interface SendAddressesOptions {
  readonly output: string;
  readonly set: BySerial;
}

/** Sets the addresses of the rack file in the fixtures themselves, after a yes, and reads each back. No levels are sent meanwhile. */
export const sendAddresses = async (file: string, { output, set }: SendAddressesOptions): Promise<ExitCode> => {
  const loaded = loadRack(fileLibrary(), file);
  if (!loaded.ok) return refuse(loaded.problems);
  const rack = loaded.value.value;
  const ended = await setOverRdm(rack, output, set);
  if (ended !== "nobody answers") return ended;
  complain("Nobody answers over the cable: set the addresses at the panels.");
  return EXIT.world;
};

const setOverRdm = async (rack: Rack, output: string, set: BySerial): Promise<ExitCode | "nobody answers"> => {
  const opened = await rackRdmLines(rack, output, set);
  if (!opened.ok) return refuse(opened.problems);
  const lines = opened.value;
  const { found, notes } = await survey(lines, complain);
  for (const words of notes) complain(safeText(words));
  if (found.length === 0) return "nobody answers";
  const { rows, missing } = rosterOf(found, rack);
  for (const { serial } of missing) complain(`${safeText(serial)}: nobody answered for it; set it at its panel.`);
  const wrong = rows.filter(isElsewhere);
  if (wrong.length === 0) {
    print("All that answered listen where the rack file says.");
    return EXIT.done;
  }
  for (const row of wrong) print(safeText(wantedInWords(row)));
  if (!(await saysYes(`Set ${wrong.length === 1 ? "this address" : `these ${wrong.length} addresses`}?`))) {
    print("Nothing was changed.");
    return EXIT.done;
  }
  return setAll(wrong, lines, rack);
};

const isElsewhere = ({ fixture, universe, identity }: RosterRow): boolean =>
  fixture?.start !== undefined && fixture.start.universe === universe && fixture.start.slot !== identity.address;

const wantedInWords = ({ fixture, identity }: RosterRow): string =>
  `${fixture?.serial} (${fixture ? placeInWords(fixture.place) : ""}): from address ${identity.address ?? "none"} to ${fixture?.start?.slot}`;

const setAll = async (rows: readonly RosterRow[], lines: readonly RdmLine[], { fixtures }: Rack): Promise<ExitCode> => {
  let failed = 0;
  for (const { fixture, universe, identity } of rows) {
    const door = lines.find((line) => line.universe === universe)?.door;
    const slot = fixture?.start?.slot;
    const uid = uidIn(identity.uid);
    if (!door || slot === undefined || uid === undefined) continue;
    const trouble = await inTalk(door, setAddress(uid, slot));
    if (trouble === undefined) continue;
    failed += 1;
    complain(safeText(`${fixture?.serial ?? identity.uid}: ${trouble}`));
  }
  print(`${rows.length - failed} of ${rows.length} set and read back; ${fixtures.length} in the rack.`);
  return failed > 0 ? EXIT.world : EXIT.done;
};
