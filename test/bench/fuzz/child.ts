import fc from "fast-check";
import { DOORS } from "../../kit/fuzz/doors.ts";

/** In a process of its own with little memory: so many changed files through every door. Prints what came of each as JSON. */
const [count = "1000", seed = "1"] = process.argv.slice(2);

const through = ({ name, files, flawOf }: (typeof DOORS)[number]) => {
  let slowest = 0;
  const started = performance.now();
  const result = fc.check(
    fc.property(files, (file) => {
      const before = performance.now();
      const flaw = flawOf(file as never);
      slowest = Math.max(slowest, performance.now() - before);
      if (flaw !== undefined) throw new Error(flaw);
    }),
    { numRuns: Number(count), seed: Number(seed) },
  );
  return {
    name,
    files: result.numRuns,
    seconds: (performance.now() - started) / 1000,
    slowest_ms: slowest,
    flaw: result.failed ? `${String(result.errorInstance)}\n${JSON.stringify(result.counterexample)}` : undefined,
  };
};

console.log(JSON.stringify({ doors: DOORS.map(through), most_mb: process.resourceUsage().maxRSS / 1024 }));
