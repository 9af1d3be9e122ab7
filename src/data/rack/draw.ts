import type { Amps, Milliamps, Seconds } from "../../domain/units.ts";
import type { Circuit, Rack, RackFixture, Rcd } from "./rack.ts";

/** What one fixture draws from its circuit. */
export interface Draw {
  readonly fixture: RackFixture;
  readonly running: Amps;
  /** The most while it starts; never below running. */
  readonly starting: Amps;
  readonly start: Seconds;
}

/** What every fixture on a circuit draws, in the order of the rack; those whose profile says nothing of it are left out. */
export const drawsOn = (circuit: Circuit, fixtures: readonly RackFixture[]): readonly Draw[] =>
  fixtures
    .filter((fixture) => fixture.circuit === circuit.name)
    .flatMap((fixture) => {
      const { power } = fixture.profile;
      if (!power) return [];
      // Read at another mains voltage: the power stays the same, the current does not.
      const share = power.volts / circuit.volts;
      return [{ fixture, running: power.running * share, starting: power.starting * share, start: power.start }];
    });

/** The most that may flow on a circuit for hours. */
export const continuousLimit = ({ rating, continuous }: Circuit): Amps => rating * continuous;

/** What these fixtures draw together once they all run. */
export const runningSum = (draws: readonly Draw[]): Amps => draws.reduce((sum, { running }) => sum + running, 0);
/** What a circuit would carry were everything on it switched on at the same moment. */
export const startingSum = (draws: readonly Draw[]): Amps => draws.reduce((sum, { starting }) => sum + starting, 0);

/** Fixtures behind an RCD, whatever their circuit, in the order of the rack. */
export const behind = ({ fixtures, circuits }: Rack, rcd: Rcd): readonly RackFixture[] => {
  const fed = circuits.filter((circuit) => circuit.rcd?.name === rcd.name).map(({ name }) => name);
  return fixtures.filter(({ circuit }) => circuit !== undefined && fed.includes(circuit));
};

/** What these fixtures leak to earth together; a profile that says nothing of it counts as 0. */
export const leakageSum = (fixtures: readonly RackFixture[]): Milliamps =>
  fixtures.reduce((sum, { profile }) => sum + (profile.power?.leakage ?? 0), 0);

/** Every RCD of the rack, once. */
export const rcdsOf = ({ circuits }: Rack): readonly Rcd[] => [
  ...new Map(circuits.flatMap(({ rcd }) => (rcd ? [[rcd.name, rcd] as const] : []))).values(),
];
