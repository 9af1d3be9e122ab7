import type { RackDraft } from "../../data/rack/parse.ts";
import { type AddressPlan, planAddresses } from "../../data/rack/plan-addresses.ts";
import { problem } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import { fileShelf } from "../../io/files/files.ts";
import { addressList } from "../../reports/address-list.ts";
import { EXIT, type ExitCode } from "../common/exit.ts";
import { print, refuse } from "../common/print.ts";
import { loadDraft } from "./rack-data.ts";
import { writeAddresses } from "./rack-write.ts";

export interface AddressOrder {
  readonly existing: "keep" | "anew";
  readonly deliver: "print" | "write";
}

/** Proposes an address for every fixture of a rack, prints the list to set them by, and writes them into the file when told to. */
export const addressRack = (name: string, { existing, deliver }: AddressOrder): ExitCode => {
  const draft = loadDraft(fileShelf(), name);
  if (!draft.ok) return refuse(draft.problems);
  const { rack } = draft.value.value;
  const plan = planAddresses(rack, existing);
  print(
    addressList(rack, plan.fixtures)
      .map((page) => page.map(safeText).join("\n"))
      .join("\n\n\n"),
  );
  if (plan.left.length > 0) return refuse([noRoom(draft.value.value, plan)]);
  if (deliver === "write") return writeAddresses(draft.value.value, plan.fixtures);
  print("\nNothing is written; --write puts them into the file.");
  return EXIT.done;
};

const noRoom = ({ file, rack }: RackDraft, { left }: AddressPlan) =>
  problem(
    file.source,
    `no room on universe ${rack.lines.map(({ universe }) => universe).join(", ")} for ${left.map(({ serial }) => serial).join(", ")}`,
    "add a DMX line under lines, or branches where a line has 32 unit loads",
  );
