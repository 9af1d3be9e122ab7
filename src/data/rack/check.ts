import { type DataFile, problemAt, valueAt } from "../../domain/problem/document.ts";
import { hintFor, type Problem } from "../../domain/problem/problem.ts";
import { isMistake, parseOutput } from "../bench/output.ts";
import { checkPower } from "./check-power.ts";
import { checkLoads } from "./loads.ts";
import {
  type Addressed,
  type AtFixture,
  ganged,
  hasStart,
  isSameMode,
  lastSlot,
  overlap,
  placeInWords,
  type Rack,
  type RackFixture,
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
