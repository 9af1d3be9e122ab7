import { isMistake, type Output, outputName, parseOutput } from "../../data/bench/output.ts";
import type { Rack } from "../../data/rack/rack.ts";
import { bad, good, type Problem, problem, type Result } from "../../domain/problem/problem.ts";
import type { Member } from "../../run/batch/batch.ts";
import type { DmxLine, Log, RdmDoor } from "../../run/ports.ts";
import { sentHere } from "../../run/shell/frame-sender.ts";
import type { SimLine } from "../../sim/line.ts";
import type { InView } from "../../sim/rack-watcher.ts";
import { simRdmDoor } from "../../sim/rdm/cable.ts";
import { askedOn, goFirstWith, lineOn, type RunLines, rdmOver, sentByProcess } from "../fixture/lines.ts";
import { simulatedDevice } from "../simulated/simulated-build.ts";

/**
 * What every universe of a rack goes out on; "sim" instead of all that the file says makes every line a simulated one.
 * Refused where a line names no output.
 */
export const rackOutputs = (rack: Rack, instead: string): Result<ReadonlyMap<number, Output>> => {
  if (instead !== "" && instead !== "sim")
    return bad(
      problem("--output", `"${instead}" cannot stand for all lines of a rack`, "sim, or what the rack file says"),
    );
  const problems: Problem[] = [];
  const outputs = new Map<number, Output>();
  for (const { universe, output, to } of rack.lines) {
    const parsed = parseOutput(instead === "" ? output : instead, instead === "" ? to : undefined);
    if (isMistake(parsed)) problems.push(problem(`${rack.name}, universe ${universe}`, parsed.message, parsed.hint));
    else outputs.set(universe, parsed);
  }
  return problems.length > 0 ? bad(...problems) : good(outputs);
};

/** The output of a universe as people write it. `universe` is one of the rack's, from 1. */
export const nameOf = (outputs: ReadonlyMap<number, Output>, universe: number): string => {
  const output = outputs.get(universe);
  if (!output) throw new Error(`Bug: universe ${universe} has no output`);
  return outputName(output);
};

/**
 * All lines of a rack, not yet opened. Real ones have a process of their own for their frames; where simulated ones stand beside
 * them, who look at every frame, all are sent from here.
 */
export const openRackLines = async (
  outputs: ReadonlyMap<number, Output>,
  simulated: ReadonlyMap<number, SimLine>,
  log: Log,
): Promise<RunLines> => {
  const real = [...outputs].flatMap(([universe, output]) =>
    output.kind === "sim" ? [] : [{ universe, output, slots: 512 }],
  );
  if (real.length > 0 && real.length === outputs.size) return sentByProcess(real, log);
  if (real.length > 0) goFirstWith(log);
  return mixedLines(outputs, simulated);
};

const mixedLines = async (
  outputs: ReadonlyMap<number, Output>,
  simulated: ReadonlyMap<number, SimLine>,
): Promise<RunLines> => {
  const { universesOn } = await import("../../run/shell/universes.ts");
  const lines = new Map<number, DmxLine>();
  const questions = new Map<number, RdmDoor>();
  for (const [universe, output] of outputs) {
    const line = output.kind === "sim" ? simulated.get(universe) : await lineOn(output);
    if (!line) continue;
    lines.set(universe, line);
    const door = output.kind === "sim" ? undefined : await askedOn(output, () => rdmOver(line));
    if (door) questions.set(universe, door);
  }
  return { frames: sentHere(universesOn(lines)), questions };
};

/** Where the simulated fixtures of a rack run can be asked. */
export const simulatedQuestions = (
  members: readonly Member[],
  fixtures: readonly (InView | undefined)[],
): ReadonlyMap<number, RdmDoor> => {
  const devices = members.flatMap(({ spot, serial }, index) => {
    const view = fixtures[index];
    return view
      ? [{ universe: spot.universe, device: simulatedDevice(view.line, view.which, serial, spot.profile) }]
      : [];
  });
  const universes = [...new Set(devices.map(({ universe }) => universe))];
  const on = (universe: number) => devices.filter((one) => one.universe === universe).map(({ device }) => device);
  return new Map(universes.map((universe) => [universe, simRdmDoor(on(universe), universe)]));
};
