import { type Output, outputName } from "../../data/bench/output.ts";
import type { Profile } from "../../data/profile/profile.ts";
import { hasStart, type Rack } from "../../data/rack/rack.ts";
import { bad, good, hintFor, type Problem, problem, type Result } from "../../domain/problem/problem.ts";
import { FRAMES_PER_SECOND } from "../../domain/units.ts";
import type { RdmDoor } from "../../run/ports.ts";
import { HEALTHY } from "../../sim/fixture.ts";
import { SimLine } from "../../sim/line.ts";
import { setFaults } from "../../sim/physical/faults.ts";
import { simRdmDoor } from "../../sim/rdm/cable.ts";
import type { BySerial } from "../common/options.ts";
import { rackOutputs } from "../rack/rack-lines.ts";
import { setProblems } from "../simulated/sim-bench.ts";
import { simulatedBuild, simulatedDevice } from "../simulated/simulated-build.ts";

/** A DMX line as it can be asked. */
export interface RdmLine {
  readonly universe: number;
  readonly name: string;
  /** Undefined where no answer can come back; `words` says why. */
  readonly door: RdmDoor | undefined;
  readonly words: string;
}

/**
 * Every line of a rack, to be asked over RDM; "sim" instead of what the file says makes all of them simulated. Refused
 * where a line names no output, or a fault is set in a fixture that is not in the rack.
 */
export const rackRdmLines = async (rack: Rack, instead: string, set: BySerial): Promise<Result<readonly RdmLine[]>> => {
  const outputs = rackOutputs(rack, instead);
  if (!outputs.ok) return outputs;
  const strangers = strangersIn(rack, set);
  if (strangers.length > 0) return bad(...strangers);
  const lines: RdmLine[] = [];
  for (const [universe, output] of outputs.value) {
    const plugged = rack.fixtures
      .filter(hasStart)
      .filter(({ start }) => start.universe === universe)
      .map(({ serial, profile, start }) => ({ serial, profile, address: start.slot, set: set.get(serial) ?? [] }));
    const line = await rdmLineOn(output, universe, plugged);
    if (!line.ok) return line;
    lines.push(line.value);
  }
  return good(lines);
};

/** A fixture on a simulated line. */
export interface SimulatedOne {
  readonly serial: string;
  readonly profile: Profile;
  readonly address: number;
  readonly set: readonly string[];
}

/**
 * One line by itself, not yet opened; what it needs is loaded only now. Refused where a fault cannot be set in a
 * simulated fixture. `universe` is 1 to 63999.
 */
export const rdmLineOn = async (
  output: Output,
  universe: number,
  simulated: readonly SimulatedOne[],
): Promise<Result<RdmLine>> => {
  const name = outputName(output);
  switch (output.kind) {
    case "serial": {
      const { framedLine } = await import("../../io/serial/framed-line.ts");
      return good({ universe, name, door: framedLine(output.path).rdm, words: "" });
    }
    case "artnet": {
      const { artRdmDoor } = await import("../../io/network/art-rdm.ts");
      const words = `Art-Net's port 6454 is open on this computer while this is asked, for ${output.to} only.`;
      return good({ universe, name, door: artRdmDoor(name, output.universe, output.to), words });
    }
    case "sim":
      return simulatedLine(universe, simulated);
    case "break":
    case "sacn":
      return good({
        universe,
        name,
        door: undefined,
        words: `${name}: nothing can answer here; RDM needs serial: or artnet:`,
      });
    default:
      return output satisfies never;
  }
};

/** Simulated fixtures are up: each had time to search for its homes three times. */
const simulatedLine = (universe: number, ones: readonly SimulatedOne[]): Result<RdmLine> => {
  const made = ones.map(({ profile, address, set, serial }, index) => {
    const build = simulatedBuild(profile, address);
    return { serial, profile, build, seed: index + 1, faults: setFaults(build, set, index + 1) };
  });
  const wrong = made.flatMap(({ faults }) => setProblems(faults));
  if (wrong.length > 0) return bad(...wrong);
  const line = new SimLine(
    made.map(({ build, seed, faults }) => ({
      build,
      options: { ...HEALTHY, troubles: faults.troubles, seed, warmth: WARM },
    })),
  );
  line.pass(
    Math.ceil(Math.max(0, ...ones.map(({ profile }) => 2 * profile.powerUp + profile.lamp.strike)) * FRAMES_PER_SECOND),
  );
  const devices = made.map(({ serial, profile }, place) => simulatedDevice(line, place, serial, profile));
  return good({ universe, name: "sim", door: simRdmDoor(devices, universe), words: "Simulated fixtures answer here." });
};
/** How warm a fixture is after a while at work. */
const WARM = 0.9;

const strangersIn = ({ fixtures }: Rack, set: BySerial): readonly Problem[] => {
  const serials = fixtures.map(({ serial }) => serial);
  return [...set.keys()]
    .filter((serial) => !serials.includes(serial))
    .map((serial) =>
      problem("--set", `there is no simulated fixture "${serial}" in this rack`, hintFor(serial, serials)),
    );
};
