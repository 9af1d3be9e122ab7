import { loadRackMaterial } from "../../../src/app/rack/rack-data.ts";
import { rackJobFor } from "../../../src/app/rack/rack-job.ts";
import type { Profile } from "../../../src/data/profile/profile.ts";
import { NOTHING_LEARNED } from "../../../src/diagnosis/model/shop.ts";
import { fileLibrary } from "../../../src/io/files/files.ts";
import { compile } from "../../../src/plan/compile.ts";
import type { DataLibrary } from "../../../src/run/ports.ts";

/** The rack file of 48 fixtures: four times the twelve of the demo, each twelve on a universe of its own. */
const FORTY_EIGHT = "forty-eight";

const shelf: DataLibrary = {
  names: (kind) => fileLibrary(process.cwd()).names(kind),
  read: (kind, name) =>
    kind === "racks" && name === FORTY_EIGHT ? rackOf48() : fileLibrary(process.cwd()).read(kind, name),
};

const rackOf48 = (): { readonly file: string; readonly text: string } => {
  const demo = fileLibrary(process.cwd()).read("racks", "demo")?.text ?? "";
  const fixtures = demo.split("\n").filter((line) => line.startsWith("  - { serial:"));
  const all = [1, 2, 3, 4].flatMap((universe) =>
    fixtures.map((line) =>
      line
        .replace(/serial: ([A-Z]+)-(\d+)/, `serial: $1-${universe}$2`)
        .replace("universe: 1", `universe: ${universe}`)
        .replace(/shelf: (\w+)/, `shelf: $1 ${universe}`)
        .replace(/, +circuit: \w/, ""),
    ),
  );
  const lines = [1, 2, 3, 4].map((universe) => `  - { universe: ${universe}, output: sim }`);
  const text = ["rack: forty-eight", "title: Forty-eight", "lines:", ...lines, "fixtures:", ...all].join("\n");
  return { file: FORTY_EIGHT, text };
};

export interface RackOf48 {
  /** Compiles the full check once for each kind and mode. */
  readonly onceForEachKind: () => number;
  /** Compiles it for every fixture. */
  readonly forEveryFixture: () => number;
  /** All that comes before the first movement: compiled, with fingerprints, in groups, other modes read. */
  readonly ready: () => number;
}

export const rackOf48Ready = (): RackOf48 => {
  const names = { rack: FORTY_EIGHT, sequence: "full", bench: "bench" };
  const material = loadRackMaterial(shelf, names);
  if (!material.ok) throw new Error(`the rack of 48 is not sound: ${JSON.stringify(material.problems)}`);
  const { rack, sequence, bench } = material.value;
  const order = { ...material.value, run: "bench", person: "", learned: NOTHING_LEARNED, outputOf: () => "sim" };
  const every = rack.value.fixtures.map(({ profile }) => profile);
  const compiled = (profiles: readonly Profile[]) =>
    profiles.map((profile) => compile(profile, sequence.value, bench.value)).length;
  return {
    onceForEachKind: () => compiled([...new Set(every)]),
    forEveryFixture: () => compiled(every),
    ready: () => {
      const job = rackJobFor(shelf, { ...order, set: new Map() });
      if (!job.ok) throw new Error("the rack of 48 cannot be run");
      return job.value.members.length;
    },
  };
};
