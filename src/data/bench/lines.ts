import { z } from "zod";
import { type DataFile, problemAt } from "../../domain/problem/document.ts";
import { bad, byPlace, good, type Problem, type Result } from "../../domain/problem/problem.ts";
import { isMistake, type Output, outputName, parseOutput } from "./output.ts";

/** One DMX line of a bench: which universe goes out where. */
export interface BenchLine {
  readonly universe: number;
  readonly output: Output;
}

export const lineEntry = z.strictObject({
  universe: z.int().min(1).max(63_999),
  output: z.string().min(1).describe("serial:PATH, break:PATH, sacn:UNIVERSE or artnet:UNIVERSE"),
  to: z.string().optional().describe('sacn and artnet: the IPv4 address of the receiver; sacn also "multicast"'),
});
type Entry = z.infer<typeof lineEntry>;

/** The DMX lines of a bench file, or everything that is wrong with them. */
export const linesOf = (file: DataFile, entries: readonly Entry[]): Result<readonly BenchLine[]> => {
  const lines: BenchLine[] = [];
  const wrong: Problem[] = [];
  for (const [index, { universe, output: text, to }] of entries.entries()) {
    const output = parseOutput(text, to);
    const say = (key: keyof Entry, message: string, hint?: string) =>
      wrong.push(problemAt(file, ["lines", index, key], { message, hint }));
    if (isMistake(output)) {
      say(output.about, output.message, output.hint);
      continue;
    }
    if (output.kind === "sim") say("output", "a simulated line belongs to no bench", "name --output sim instead");
    const same = lines.find((line) => placeOf(line.output) === placeOf(output));
    if (same) say("output", `universe ${same.universe} goes out there already`);
    if (lines.some((line) => line.universe === universe)) say("universe", `universe ${universe} has a line already`);
    lines.push({ universe, output });
  }
  return wrong.length > 0 ? bad(...byPlace(wrong)) : good(lines);
};

/** Two lines in one place would speak into each other: one port, whatever is spoken on it, or one universe of one receiver. */
const placeOf = (output: Output): string => ("path" in output ? output.path : outputName(output));
