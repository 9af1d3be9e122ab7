import { isMistake, type Output, outputName, parseOutput } from "../../data/bench/output.ts";
import type { Rack } from "../../data/rack/rack.ts";
import { bad, good, type Problem, problem, type Result } from "../../domain/problem/problem.ts";
import type { DmxLine } from "../../run/ports.ts";
import type { OpenedLines } from "../../run/shell/doors.ts";
import type { SimLine } from "../../sim/line.ts";
import { lineOn } from "../fixture/lines.ts";

/** What every universe of a rack goes out on; "sim" instead of all that the file says makes every line a simulated one. */
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

export const nameOf = (outputs: ReadonlyMap<number, Output>, universe: number): string => {
  const output = outputs.get(universe);
  if (!output) throw new Error(`Bug: universe ${universe} has no output`);
  return outputName(output);
};

/** All lines of a rack, real and simulated side by side, registered with dmx-ts; not yet opened. */
export const openRackLines = async (
  outputs: ReadonlyMap<number, Output>,
  simulated: ReadonlyMap<number, SimLine>,
): Promise<OpenedLines> => {
  const { universesOn } = await import("../../run/shell/universes.ts");
  const lines = [...outputs].map(async ([universe, output]): Promise<readonly [number, DmxLine] | undefined> => {
    if (output.kind !== "sim") return [universe, await lineOn(output)];
    const line = simulated.get(universe);
    return line && [universe, line];
  });
  return universesOn(new Map((await Promise.all(lines)).filter((line) => line !== undefined)));
};
