import { type DataFile, problemAt, valueAt } from "../../domain/problem/document.ts";
import { hintFor, type Problem } from "../../domain/problem/problem.ts";
import { isMistake, parseOutput } from "../bench/output.ts";
import { behind, checkLoads, continuousLimit, drawsOn, leakageSum, planStarts, rcdsOf, runningSum } from "./power.ts";
import {
  type Addressed,
  type AtFixture,
  type Circuit,
  ganged,
  hasStart,
  isSameMode,
  lastSlot,
  overlap,
  placeInWords,
  type Rack,
  type RackFixture,
  type Rcd,
  SLOTS,
} from "./rack.ts";

/**
 * What a rack file of well-formed entries can still have wrong: names used twice or nowhere explained,
 * addresses in each other's way, DMX lines with too much on them. `entries` says at which index of the
 * file's list, from 0, each fixture stands.
 */
export const checkRack = (file: DataFile, rack: Rack, entries: readonly number[]): readonly Problem[] => {
  const at: AtFixture = (fixture, key, words) =>
    problemAt(file, ["fixtures", entries[rack.fixtures.indexOf(fixture)] ?? 0, key], words);
  return [
    ...serialsTwice(rack, at),
    ...placesTwice(rack, at),
    ...badOutputs(file, rack),
    ...linesTwice(file, rack),
    ...unknownCircuits(rack, at),
    ...unknownRcds(file, rack),
    ...checkAddresses(rack, at),
    ...checkLoads(rack, at),
    ...checkPower(rack, at),
  ];
};

const serialsTwice = ({ fixtures }: Rack, at: AtFixture): readonly Problem[] =>
  fixtures.flatMap((fixture, index) => {
    const first = fixtures.slice(0, index).find(({ serial }) => serial === fixture.serial);
    return first
      ? [
          at(fixture, "serial", {
            message: `serial ${first.serial} is already the one at ${placeInWords(first.place)}`,
          }),
        ]
      : [];
  });

const placesTwice = ({ fixtures }: Rack, at: AtFixture): readonly Problem[] =>
  fixtures.flatMap((fixture, index) => {
    const words = placeInWords(fixture.place);
    const first = fixtures.slice(0, index).find(({ place }) => placeInWords(place) === words);
    return first ? [at(fixture, "place", { message: `${first.serial} already stands at ${words}` })] : [];
  });

const badOutputs = (file: DataFile, { lines }: Rack): readonly Problem[] =>
  lines.flatMap(({ output, to }, index) => {
    const parsed = parseOutput(output, to);
    return isMistake(parsed) ? [problemAt(file, ["lines", index, parsed.about], parsed)] : [];
  });

const linesTwice = (file: DataFile, { lines }: Rack): readonly Problem[] =>
  lines.flatMap((line, index) => {
    const before = lines.slice(0, index);
    if (before.some(({ universe }) => universe === line.universe))
      return [
        problemAt(file, ["lines", index, "universe"], { message: `universe ${line.universe} already has a DMX line` }),
      ];
    const shared = before.find(({ output, to }) => output === line.output && to === line.to && output !== "sim");
    return shared
      ? [
          problemAt(file, ["lines", index, "output"], {
            message: `${line.output} already carries universe ${shared.universe}`,
          }),
        ]
      : [];
  });

const unknownCircuits = ({ fixtures, circuits }: Rack, at: AtFixture): readonly Problem[] => {
  const known = circuits.map(({ name }) => name);
  return fixtures.flatMap((fixture) =>
    fixture.circuit === undefined || known.includes(fixture.circuit)
      ? []
      : [
          at(fixture, "circuit", {
            message: `there is no circuit "${fixture.circuit}" in this file`,
            hint: hintFor(fixture.circuit, known),
          }),
        ],
  );
};

const unknownRcds = (file: DataFile, { circuits }: Rack): readonly Problem[] => {
  const known = Object.keys(valueAt(file, ["rcds"]) ?? {});
  return circuits.flatMap(({ name, rcd }) => {
    const named = valueAt(file, ["circuits", name, "rcd"]);
    return rcd || typeof named !== "string"
      ? []
      : [
          problemAt(file, ["circuits", name, "rcd"], {
            message: `there is no RCD "${named}" in this file`,
            hint: hintFor(named, known),
          }),
        ];
  });
};

/** Every fixture needs an address that ends by 512, on a universe with a DMX line, in nobody's way. */
const checkAddresses = (rack: Rack, at: AtFixture): readonly Problem[] => {
  const addressed = rack.fixtures.filter(hasStart);
  return [
    ...rack.fixtures.filter((fixture) => !hasStart(fixture)).map((fixture) => noAddress(fixture, at)),
    ...addressed.filter((fixture) => lastSlot(fixture) > SLOTS).map((fixture) => pastTheEnd(fixture, at)),
    ...addressed.flatMap((fixture) => withoutLine(rack, fixture, at)),
    ...addressed.flatMap((fixture, index) => inTheWay(addressed.slice(0, index), fixture, at)),
  ];
};

const noAddress = (fixture: RackFixture, at: AtFixture): Problem =>
  at(fixture, "serial", {
    message: `${fixture.serial} has no address yet`,
    hint: '"limber rack address" proposes addresses',
  });

const pastTheEnd = (fixture: Addressed, at: AtFixture): Problem =>
  at(fixture, "address", {
    message: `start address ${fixture.start.slot} and ${fixture.profile.slots} slots end at ${lastSlot(fixture)}, past ${SLOTS}`,
    hint: `at most ${SLOTS - fixture.profile.slots + 1}`,
  });

const withoutLine = ({ lines }: Rack, fixture: Addressed, at: AtFixture): readonly Problem[] =>
  lines.some(({ universe }) => universe === fixture.start.universe)
    ? []
    : [
        at(fixture, "universe", {
          message: `universe ${fixture.start.universe} has no DMX line in this file`,
          hint: `universes that have one: ${[...new Set(lines.map(({ universe }) => universe))].join(", ")}`,
        }),
      ];

/** The first fixture before it in the file that hears one of its slots, unless both share their address on purpose. */
const inTheWay = (before: readonly Addressed[], fixture: Addressed, at: AtFixture): readonly Problem[] => {
  const other = before.find((one) => overlap(one, fixture) && !(ganged(one, fixture) && isSameMode(one, fixture)));
  if (!other) return [];
  return ganged(other, fixture)
    ? [at(fixture, "profile", mixed(fixture, other))]
    : [at(fixture, "address", { message: clash(fixture, other), hint: CLASH })];
};

const clash = (fixture: Addressed, other: Addressed): string =>
  `slots ${fixture.start.slot} to ${lastSlot(fixture)} overlap ${other.serial}, which has ${other.start.slot} to ${lastSlot(other)}`;

const CLASH = '"limber rack address" proposes others; fixtures that share one on purpose each say ganged: true';

const mixed = (fixture: Addressed, other: Addressed) => ({
  message: `${fixture.profile.name} shares an address with ${other.serial}, which is ${other.profile.name}`,
  hint: "fixtures on one address are of one kind, all in the same mode",
});

/** A circuit carries its fixtures for hours and while they start, one after the other; an RCD bears their leakage. */
const checkPower = (rack: Rack, at: AtFixture): readonly Problem[] => [
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
