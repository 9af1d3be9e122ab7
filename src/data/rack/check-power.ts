import type { Problem } from "../../domain/problem/problem.ts";
import { behind, continuousLimit, drawsOn, leakageSum, rcdsOf, runningSum } from "./loads.ts";
import type { AtFixture, Circuit, Rack, RackFixture, Rcd } from "./rack.ts";
import { planStarts } from "./starts.ts";

/** A circuit carries its fixtures for hours and while they start, one after the other; an RCD bears their leakage. */
export const checkPower = (rack: Rack, at: AtFixture): readonly Problem[] => [
  ...rack.circuits.flatMap((circuit) => [...unknownDraw(rack, circuit, at), ...overForHours(rack, circuit, at)]),
  ...cannotStart(rack, at),
  ...rcdsOf(rack).flatMap((rcd) => overBudget(rack, rcd, at)),
];

/** `value` to two decimals, in its own unit: "12.8", never "12.799999". */
export const hundredths = (value: number): number => Math.round(value * 100) / 100;

const unknownDraw = ({ fixtures }: Rack, circuit: Circuit, at: AtFixture): readonly Problem[] =>
  fixtures
    .filter((fixture) => fixture.circuit === circuit.name && !fixture.profile.power)
    .map((fixture) =>
      at(fixture, "circuit", {
        message: `no current is known for ${fixture.profile.name}`,
        hint: "write it in its profile under power, or leave the circuit out",
      }),
    );

const FOR_HOURS =
  "move some to another circuit, or test the rack in two lots; your local code decides what may flow for hours";

const overForHours = ({ fixtures }: Rack, circuit: Circuit, at: AtFixture): readonly Problem[] => {
  const draws = drawsOn(circuit, fixtures);
  const limit = continuousLimit(circuit);
  const over = draws.find((_, index) => runningSum(draws.slice(0, index + 1)) > limit + 1e-9);
  return over
    ? [
        at(over.fixture, "circuit", {
          message: `circuit ${circuit.name} would carry ${hundredths(runningSum(draws))} A for hours, ${over.fixture.serial} is past the ${hundredths(limit)} A it may (${circuit.continuous} of ${circuit.rating} A)`,
          hint: FOR_HOURS,
        }),
      ]
    : [];
};

const cannotStart = (rack: Rack, at: AtFixture): readonly Problem[] =>
  planStarts(rack)
    .stuck.filter((fixture) => !tooMuchRunning(rack, fixture))
    .map((fixture) =>
      at(fixture, "circuit", {
        message: `${fixture.serial} cannot start on circuit ${fixture.circuit}, even as the only one starting`,
        hint: "a stronger circuit, or fewer on this one",
      }),
    );

/** Whether a fixture's circuit carries too much for hours, which is reported there. */
const tooMuchRunning = ({ circuits, fixtures }: Rack, { circuit: name }: RackFixture): boolean =>
  circuits.some(
    (circuit) => circuit.name === name && runningSum(drawsOn(circuit, fixtures)) > continuousLimit(circuit),
  );

const overBudget = (rack: Rack, rcd: Rcd, at: AtFixture): readonly Problem[] => {
  const fixtures = behind(rack, rcd);
  const over = fixtures.find((_, index) => leakageSum(fixtures.slice(0, index + 1)) > rcd.budget + 1e-9);
  return over
    ? [
        at(over, "circuit", {
          message: `RCD ${rcd.name} would bear ${hundredths(leakageSum(fixtures))} mA of leakage, ${over.serial} is past its budget of ${rcd.budget} mA`,
          hint: "move some behind another RCD, or test the rack in two lots",
        }),
      ]
    : [];
};
