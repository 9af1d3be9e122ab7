import { planStarts } from "../../data/rack/starts.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { rackInWords, startsInWords } from "../../reports/rack-check.ts";
import { EXIT, type ExitCode } from "../common/exit.ts";
import { print, refuse } from "../common/print.ts";
import { loadRack } from "./rack-data.ts";

/** Says everything that is wrong with a rack file at once; or what the rack loads its lines and circuits with, and how to switch it on. */
export const checkRackFile = (name: string): ExitCode => {
  const rack = loadRack(fileLibrary(), name);
  if (!rack.ok) return refuse(rack.problems);
  const { value } = rack.value;
  print([...rackInWords(value), "", ...startsInWords(planStarts(value))].map(safeText).join("\n"));
  return EXIT.done;
};
