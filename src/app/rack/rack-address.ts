import type { RackDraft } from "../../data/rack/parse.ts";
import { type AddressPlan, planAddresses } from "../../data/rack/plan-addresses.ts";
import type { Rack } from "../../data/rack/rack.ts";
import { problem } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { addressList } from "../../reports/address-list.ts";
import type { BySerial } from "../common/options.ts";
import { EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import type { WhenAsked } from "../fixture/rig.ts";
import { setOverRdm } from "../rdm/rdm-address.ts";
import { rackRdmLines } from "../rdm/rdm-lines.ts";
import { loadDraft } from "./rack-data.ts";
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
  const lines = await rackRdmLines(rack, output, set);
  if (!lines.ok) return refuse(lines.problems);
  const ended = await setOverRdm(rack, lines.value);
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
