import type { Bench } from "../bench/bench.ts";
import { isMistake, type Output, outputName, parseOutput } from "../bench/output.ts";
import type { DmxLine } from "../ports.ts";
import { bad, good, problem, type Result } from "../problem/problem.ts";
import type { OpenedLine } from "../run/doors.ts";

/** What `--output` and `--to` name; where they are silent, the bench's own line for the universe, else the simulated one. */
export const outputFor = (
  given: { readonly output: string; readonly to: string | undefined },
  bench: Bench,
  universe: number,
): Result<Output> => {
  if (given.output === "" && given.to === undefined)
    return good(bench.lines.find((line) => line.universe === universe)?.output ?? { kind: "sim" });
  if (given.output === "") return bad(problem("--to", "nothing is sent there", "name an --output too"));
  const parsed = parseOutput(given.output, given.to);
  return isMistake(parsed) ? bad(problem(`--${parsed.about}`, parsed.message, parsed.hint)) : good(parsed);
};

/** An output that is not simulated. */
export type RealOutput = Exclude<Output, { kind: "sim" }>;

/**
 * The door behind an output, not yet opened; what it needs is loaded only now. `slots`: the last slot that anybody listens
 * to, for outputs that are quicker with fewer.
 */
export const lineOn = async (output: RealOutput, slots = 512): Promise<DmxLine> => {
  switch (output.kind) {
    case "break":
      return (await import("../serial/break-line.ts")).breakLine(output.path, slots);
    case "serial":
      return (await import("../serial/framed-line.ts")).framedLine(output.path);
    case "sacn":
      return (await import("../network/sacn-line.ts")).sacnLine(outputName(output), output.universe, output.to);
    case "artnet":
      return (await import("../network/art-net-line.ts")).artNetLine(outputName(output), output.universe, output.to);
    default:
      return output satisfies never;
  }
};

/** One universe on one DMX line. */
export const onUniverse = async (universe: number, line: DmxLine): Promise<OpenedLine> => {
  const { universesOn } = await import("../run/universes.ts");
  const universes = universesOn(new Map([[universe, line]]));
  return {
    open: (lost) => universes.open(universe, lost),
    send: (levels) => universes.send(universe, levels),
    close: () => universes.close(),
  };
};
