import { isMistake, type Output, outputName, parseOutput } from "../../data/bench/output.ts";
import type { Rack } from "../../data/rack/rack.ts";
import { bad, good, type Problem, problem, type Result } from "../../domain/problem/problem.ts";
import type { Member } from "../../run/batch/batch.ts";
import type { DmxLine, RdmDoor } from "../../run/ports.ts";
import type { OpenedLines } from "../../run/shell/doors.ts";
import type { SimLine } from "../../sim/line.ts";
import type { InView } from "../../sim/rack-watcher.ts";
import { simRdmDoor } from "../../sim/rdm/sim-door.ts";
import { askedOn, lineOn } from "../fixture/lines.ts";
import { simulatedDevice } from "../simulated/simulated-device.ts";

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

/** The lines of a rack run, and where its fixtures can be asked. */
export interface RackLines {
  readonly lines: OpenedLines;
  readonly questions: ReadonlyMap<number, RdmDoor>;
}

/** All lines of a rack, real and simulated side by side, registered with dmx-ts; not yet opened. */
export const openRackLines = async (
  outputs: ReadonlyMap<number, Output>,
  simulated: ReadonlyMap<number, SimLine>,
): Promise<RackLines> => {
  const { universesOn } = await import("../../run/shell/universes.ts");
  const lines = new Map<number, DmxLine>();
  const questions = new Map<number, RdmDoor>();
  for (const [universe, output] of outputs) {
    const line = output.kind === "sim" ? simulated.get(universe) : await lineOn(output);
    if (!line) continue;
    lines.set(universe, line);
    const door = output.kind === "sim" ? undefined : await askedOn(output, line);
    if (door) questions.set(universe, door);
  }
  return { lines: universesOn(lines), questions };
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
