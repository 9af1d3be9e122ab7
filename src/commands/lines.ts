import type { DmxLine } from "../ports.ts";
import { bad, good, problem, type Result } from "../problem/problem.ts";
import type { OpenedLine } from "../run/doors.ts";

/** What an `--output` names. */
export type Output = { readonly kind: "sim" } | { readonly kind: "serial"; readonly path: string };

export const parseOutput = (text: string): Result<Output> => {
  if (text === "sim") return good({ kind: "sim" });
  const path = /^serial:(.+)$/s.exec(text)?.[1];
  if (path !== undefined) return good({ kind: "serial", path });
  return bad(
    problem(
      "--output",
      `"${text}" is not an output`,
      'serial:PATH, such as serial:/dev/ttyUSB0, or sim; "limber outputs" lists what is there',
    ),
  );
};

/** One universe on one DMX line, registered with dmx-ts. */
export const onUniverse = async (universe: number, line: DmxLine): Promise<OpenedLine> => {
  const { universesOn } = await import("../run/universes.ts");
  const universes = universesOn(new Map([[universe, line]]));
  return {
    open: (lost) => universes.open(universe, lost),
    send: (levels) => universes.send(universe, levels),
    close: () => universes.close(),
  };
};
