import type { Rack } from "../../data/rack/rack.ts";
import { type MovedAnswer, reallySet, wrongInFile } from "../../data/rack/really.ts";
import { hintFor } from "../../domain/problem/nearest.ts";
import { type Problem, problem } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { EXIT, type ExitCode } from "../common/exit.ts";
import { print, refuse } from "../common/print.ts";
import { loadDraft } from "./rack-data.ts";
import { writeAddresses } from "./rack-write.ts";

/**
 * Works out from who really moved when one after the other was asked to which addresses are really set;
 * writes them into the file when told to.
 */
export const correctRack = (name: string, said: readonly string[], deliver: "print" | "write"): ExitCode => {
  const draft = loadDraft(fileLibrary(), name);
  if (!draft.ok) return refuse(draft.problems);
  const { rack } = draft.value.value;
  const answers = said.map(answerFrom);
  const strangers = answers.flatMap((answer) => strangersIn(rack, answer));
  if (strangers.length > 0) return refuse(strangers);
  const really = reallySet(rack, answers);
  const wrong = wrongInFile(rack, really);
  for (const words of [...really.open, ...wrong]) print(safeText(words));
  if (really.open.length > 0 || wrong.length === 0) {
    print(really.open.length > 0 ? "Nothing is written while this is open." : "The file is right.");
    return EXIT.done;
  }
  return deliver === "write" ? writeAddresses(draft.value.value, really.fixtures) : EXIT.done;
};

/** "A=B": A was asked and B moved; "A=": nothing did; "A=A,B": both. */
const answerFrom = (text: string): MovedAnswer => {
  const [asked = "", moved = ""] = text.split("=", 2);
  return { asked, moved: moved.split(",").filter((serial) => serial !== "") };
};

const strangersIn = ({ fixtures }: Rack, { asked, moved }: MovedAnswer): readonly Problem[] => {
  const known = fixtures.map(({ serial }) => serial);
  return [asked, ...moved]
    .filter((serial) => !known.includes(serial))
    .map((serial) => problem(serial, "there is no such fixture in this rack", hintFor(serial, known)));
};
