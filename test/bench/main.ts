import { cpus, release } from "node:os";
import { parseArgs } from "node:util";
import { merged, type Row, table } from "./line/row.ts";

/** Every benchmark by its name; loaded only when it is wanted. */
const BENCHES: Readonly<Record<string, () => Promise<readonly Row[]>>> = {
  plan: async () => (await import("./plan/plan.ts")).planBench(),
  faults: async () => (await import("./faults/faults.ts")).faultsBench(),
  openings: async () => (await import("./store/openings.ts")).openingsBench(),
  append: async () => (await import("./store/append.ts")).appendBench(),
  damage: async () => (await import("./damage/damage.ts")).damageBench(),
  read: async () => (await import("./store/read.ts")).readBench(),
  memory: async () => (await import("./memory/memory.ts")).memoryBench(),
  presses: async () => (await import("./presses/presses.ts")).pressesBench(),
  coverage: async () => (await import("./presses/coverage.ts")).coverageBench(),
  "set-faults": async () => (await import("./presses/set-faults.ts")).setFaultRows(1),
  screen: async () => (await import("./screen/screen.ts")).screenBench(),
  fuzz: async () => (await import("./fuzz/fuzz.ts")).fuzzBench(),
  ceiling: async () => (await import("./ceiling/ceiling.ts")).ceilingBench(),
  found: async () => (await import("./found/found.ts")).foundBench(),
  stops: async () => (await import("./stops/stops.ts")).stopsBench(),
  line: async () => (await import("./line/line.ts")).lineBench(),
  beat: async () => (await import("./line/beat.ts")).beatBench(),
  universes: async () => (await import("./universes/universes.ts")).universesBench(),
  "rack-minutes": async () => (await import("./plan/rack-minutes.ts")).rackMinutesBench(),
  "verify-minutes": async () => (await import("./plan/verify-minutes.ts")).verifyMinutesBench(),
  "rack-played": async () => (await import("./plan/rack-played.ts")).rackPlayedBench(),
  readings: async () => (await import("./readings/readings.ts")).readingsBench(),
  "odd-levels": async () => (await import("./readings/odd-levels.ts")).oddLevelsBench(),
  "gdtf-survey": async () => (await import("./gdtf/survey.ts")).surveyBench(values.folder),
  kills: async () => (await import("./store/kills.ts")).killsBench(),
  phone: async () => (await import("./phone/phone.ts")).phoneBench(),
  rdm: async () => (await import("./rdm/rdm.ts")).rdmBench(),
  share: async () => (await import("./share/share.ts")).shareBench(),
  "share-killed": async () =>
    (await import("./share/killed.ts")).shareKilledBench(Number(values.rounds), Number(values.minutes)),
  mutants: async () =>
    (await import("./mutants/mutants.ts")).mutantsBench(
      Number(values.sampled),
      Number(values.seed),
      values.rooms?.split(","),
    ),
  "bad-day": async () =>
    (await import("./bad-day/bad-day.ts")).badDayBench(
      Number(values.rounds),
      Number(values.minutes),
      values.kinds?.split(","),
    ),
  "runs-killed": async () =>
    (await import("./store/runs-killed.ts")).runsKilledBench(
      Number(values.kills),
      Number(values.minutes),
      values.kinds?.split(","),
    ),
};

/** These take many minutes, and run only when they are named. */
const LONG = [
  "kills",
  "beat",
  "share",
  "share-killed",
  "set-faults",
  "coverage",
  "runs-killed",
  "bad-day",
  "found",
  "ceiling",
  "gdtf-survey",
  "rack-played",
  "readings",
  "odd-levels",
  "mutants",
];

/**
 * `npm run bench` runs all but the long ones, `npm run bench -- line faults` those that are named. `--times 3` runs each so
 * often and says how far the ratios spread; `--kills 1000 --minutes 60 --kinds single,rack` are for `runs-killed`, `--rounds 200 --minutes 60` for `share-killed`, both with `--kinds` for `bad-day`, `--folder FOLDER` for `gdtf-survey`,
 * `--sampled 3 --seed 1` (of each room) and `--rooms run/,plan` for `mutants`; `--json` keeps the rows.
 */
const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    json: { type: "boolean", default: false },
    times: { type: "string", default: "1" },
    kills: { type: "string", default: "1000" },
    rounds: { type: "string", default: "200" },
    minutes: { type: "string", default: "60" },
    kinds: { type: "string" },
    folder: { type: "string" },
    sampled: { type: "string", default: "3" },
    seed: { type: "string", default: "1" },
    rooms: { type: "string" },
  },
});
const wanted = positionals.length > 0 ? positionals : Object.keys(BENCHES).filter((name) => !LONG.includes(name));
const kept: Record<string, readonly Row[]> = {};

for (const name of wanted) {
  const bench = BENCHES[name];
  if (!bench) throw new Error(`no benchmark "${name}"; known: ${Object.keys(BENCHES).join(", ")}`);
  const runs: (readonly Row[])[] = [];
  for (let n = 0; n < Number(values.times); n++) runs.push(await bench());
  kept[name] = merged(runs);
  if (!values.json) console.log(`${name}\n${table(kept[name])}\n`);
}
const machine = `${cpus().length} x ${cpus()[0]?.model ?? "unknown"}, ${release()}`;
if (values.json)
  console.log(
    JSON.stringify({ node: process.version, machine, date: new Date().toISOString(), ...kept }, undefined, 2),
  );
