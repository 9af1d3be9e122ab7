import { bad, good, problem, type Result } from "../problem/problem.ts";
import { safeText } from "../problem/terminal.ts";
import { type Edit, editedText } from "../rack/edit.ts";
import type { RackDraft } from "../rack/parse.ts";
import { type AddressPlan, planAddresses } from "../rack/plan-addresses.ts";
import { startInWords } from "../rack/rack.ts";
import { addressList } from "../report/address-list.ts";
import { fileShelf } from "../shelf/files.ts";
import { replaceFile } from "../shelf/outside.ts";
import { EXIT, type ExitCode } from "./exit.ts";
import { complain, print, refuse } from "./print.ts";
import { draftFrom, loadDraft } from "./rack-data.ts";

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
  if (deliver === "write") return writeBack(draft.value.value, plan);
  print("\nNothing is written; --write puts them into the file.");
  return EXIT.done;
};

const noRoom = ({ file, rack }: RackDraft, { left }: AddressPlan) =>
  problem(
    file.source,
    `no room on universe ${rack.lines.map(({ universe }) => universe).join(", ")} for ${left.map(({ serial }) => serial).join(", ")}`,
    "add a DMX line under lines, or branches where a line has 32 unit loads",
  );

const writeBack = (draft: RackDraft, plan: AddressPlan): ExitCode => {
  const text = textWith(draft, plan);
  if (!text.ok) return refuse(text.problems);
  const trouble = replaceFile(draft.file.source, text.value);
  if (trouble !== undefined) {
    complain(`${safeText(draft.file.source)}: ${safeText(trouble)}`);
    return EXIT.world;
  }
  print(`\nWritten into ${safeText(draft.file.source)}.`);
  return EXIT.done;
};

/** The file's new text; read once more before it may take the place of the old one. */
const textWith = ({ file }: RackDraft, { fixtures }: AddressPlan): Result<string> => {
  const edits = fixtures.flatMap(({ start }, entry): readonly Edit[] =>
    start
      ? [
          { entry, key: "universe", value: start.universe },
          { entry, key: "address", value: start.slot },
        ]
      : [],
  );
  const text = editedText(file.text, edits);
  const again = draftFrom(fileShelf(), file.source, text);
  const wrong = fixtures.find(
    (fixture, index) =>
      !again.ok || startInWords(again.value.rack.fixtures[index]?.start) !== startInWords(fixture.start),
  );
  return wrong
    ? bad(
        problem(file.source, `${wrong.serial} is written in a way that cannot be changed from here`, "set it by hand"),
      )
    : good(text);
};
