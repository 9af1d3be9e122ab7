import { expect, test } from "vitest";
import { type FindProfile, parseRack } from "../../../src/data/rack/parse.ts";
import { bad, good, problem, tellProblems } from "../../../src/domain/problem/problem.ts";
import { must, shippedProfile, shippedRack } from "../../kit/shipped.ts";

const KINDS = ["beam", "framing", "led-wash", "spot-16bit", "spot-8bit"];
const find: FindProfile = (name) =>
  KINDS.includes(name)
    ? good(shippedProfile(name))
    : bad(problem(name, "there is no profile of this name", 'did you mean "beam"?'));

const HEAD = `rack: mine
title: Mine
lines:
  - { universe: 1, output: "serial:/dev/ttyUSB0" }
circuits:
  A: { rating_a: 32, volts: 230, rcd: one }
rcds:
  one: { leakage_budget_ma: 15 }
fixtures:
`;
const spot = (serial: string, address: number, more = "") =>
  `  - { serial: ${serial}, profile: spot-16bit, shelf: top, place: place of ${serial}, universe: 1, address: ${address}${more} }\n`;
const told = (text: string): string => {
  const result = parseRack("mine.yaml", text, find);
  return result.ok ? "" : tellProblems(result.problems);
};

test("a rack file becomes a rack: fixtures with their kind, place, address and circuit", () => {
  const rack = must(parseRack("mine.yaml", HEAD + spot("A-1", 31, ", circuit: A"), find));
  expect(rack).toEqual({
    name: "mine",
    title: "Mine",
    lines: [{ universe: 1, output: "serial:/dev/ttyUSB0", to: undefined }],
    circuits: [{ name: "A", rating: 32, volts: 230, continuous: 0.8, rcd: { name: "one", budget: 15 } }],
    groupSizes: { broad: { usual: 6, most: 8 }, fine: { usual: 3, most: 4 } },
    fixtures: [
      {
        serial: "A-1",
        profile: shippedProfile("spot-16bit"),
        place: { shelf: "top", position: "place of A-1" },
        start: { universe: 1, slot: 31 },
        ganged: false,
        uid: undefined,
        branch: undefined,
        circuit: "A",
      },
    ],
  });
});

test("everything wrong is told at once, each where it stands", () => {
  const text = `rack: mine
title: Mine
lines:
  - { universe: 1, output: sim }
  - { universe: 1, output: "serial:/dev/ttyUSB0" }
circuits:
  A: { rating_a: 16, volts: 230, rcd: two }
fixtures:
  - { serial: A-1, profile: spot-16bit, shelf: top, place: left, universe: 1, address: 1, circuit: B }
  - { serial: A-1, profile: spot-16bit, shelf: top, place: left, universe: 1, address: 30 }
  - { serial: A-2, profile: beem, shelf: top, place: middle }
  - { serial: A-3, profile: beem, shelf: top, place: right, universe: 1 }
  - { serial: A-4, profile: beam, shelf: low, place: left, universe: 2, address: 500 }
  - { serial: 105, profile: beam, shelf: low, place: middle }
  - { serial: A-6, profile: beam, shelf: low, place: right }
`;
  expect(told(text)).toMatchInlineSnapshot(`
    "mine.yaml:5:17: universe 1 already has a DMX line
        - { universe: 1, output: "serial:/dev/ttyUSB0" }
                      ^

    mine.yaml:7:39: there is no RCD "two" in this file
        A: { rating_a: 16, volts: 230, rcd: two }
                                            ^^^

    mine.yaml:9:100: there is no circuit "B" in this file (did you mean "A"?)
        - { serial: A-1, profile: spot-16bit, shelf: top, place: left, universe: 1, address: 1, circuit: B }
                                                                                                         ^

    mine.yaml:10:15: serial A-1 is already the one at top, left
        - { serial: A-1, profile: spot-16bit, shelf: top, place: left, universe: 1, address: 30 }
                    ^^^

    mine.yaml:10:60: A-1 already stands at top, left
        - { serial: A-1, profile: spot-16bit, shelf: top, place: left, universe: 1, address: 30 }
                                                                 ^^^^

    mine.yaml:10:88: slots 30 to 59 overlap A-1, which has 1 to 30 ("limber rack address" proposes others; fixtures that share one on purpose each say ganged: true)
        - { serial: A-1, profile: spot-16bit, shelf: top, place: left, universe: 1, address: 30 }
                                                                                             ^^

    mine.yaml:11:29: there is no profile of this name (did you mean "beam"?)
        - { serial: A-2, profile: beem, shelf: top, place: middle }
                                  ^^^^

    mine.yaml:12:5: universe and address go together (both, or neither yet)
        - { serial: A-3, profile: beem, shelf: top, place: right, universe: 1 }
          ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^

    mine.yaml:13:70: universe 2 has no DMX line in this file (universes that have one: 1)
        - { serial: A-4, profile: beam, shelf: low, place: left, universe: 2, address: 500 }
                                                                           ^

    mine.yaml:13:82: start address 500 and 18 slots end at 517, past 512 (at most 495)
        - { serial: A-4, profile: beam, shelf: low, place: left, universe: 2, address: 500 }
                                                                                       ^^^

    mine.yaml:14:15: must be text (put it in quotes)
        - { serial: 105, profile: beam, shelf: low, place: middle }
                    ^^^

    mine.yaml:15:15: A-6 has no address yet ("limber rack address" proposes addresses)
        - { serial: A-6, profile: beam, shelf: low, place: right }
                    ^^^"
  `);
});

test.each([
  { because: "two of a kind on one address is a mistake", others: spot("B", 1), wrong: /overlap A/ },
  { because: "unless both say that they share it", others: spot("B", 1, ", ganged: true"), wrong: /overlap A/ },
  {
    because: "one slot is enough to be in the way",
    others: spot("B", 30),
    wrong: /slots 30 to 59 overlap A, which has 1 to 30/,
  },
  { because: "the next free slot is free", others: spot("B", 31), wrong: undefined },
  { because: "the last slot is 512", others: spot("B", 483), wrong: undefined },
  { because: "and not 513", others: spot("B", 484), wrong: /end at 513, past 512 \(at most 483\)/ },
])("addresses: $because", ({ others, wrong }) => {
  const words = told(HEAD + spot("A", 1) + others);
  if (wrong) expect(words).toMatch(wrong);
  else expect(words).toBe("");
});

test("fixtures of one kind and mode may share an address when all of them say so", () => {
  const gang = ", ganged: true";
  expect(told(HEAD + spot("A", 1, gang) + spot("B", 1, gang) + spot("C", 1, gang))).toBe("");
});

test("a gang in two modes is told to be one", () => {
  const mixed = spot("A", 1, ", ganged: true") + spot("B", 1, ", ganged: true").replace("spot-16bit", "spot-8bit");
  expect(told(HEAD + mixed)).toMatch(
    /spot-8bit shares an address with A, which is spot-16bit \(fixtures on one address/,
  );
});

const gangOf = (count: number, more: (index: number) => string = () => "") =>
  Array.from({ length: count }, (_, index) => spot(`F${index}`, 1, `, ganged: true${more(index)}`)).join("");

/** ANSI E1.11: 32 unit loads on a line (secondary source). */
test.each([
  { because: "a line drives 32 fixtures of one unit load", fixtures: gangOf(32), wrong: undefined },
  { because: "and not 33", fixtures: gangOf(33), wrong: /carries 33 unit loads, F32 is past the 32/ },
  {
    because: "every output of a splitter drives 32 again",
    fixtures: gangOf(64, (index) => `, branch: ${index % 2 === 0 ? "left" : "right"}`),
    wrong: undefined,
  },
  {
    because: "a splitter's input is one load more on the line",
    fixtures: gangOf(33, (index) => (index === 0 ? ", branch: left" : "")),
    wrong: /the DMX line of universe 1 carries 33 unit loads/,
  },
])("$because", ({ fixtures, wrong }) => {
  if (wrong) expect(told(HEAD + fixtures)).toMatch(wrong);
  else expect(told(HEAD + fixtures)).toBe("");
});

test("fixtures that load a line with an eighth each may be 256", () => {
  const eighth = { ...shippedProfile("spot-16bit"), unitLoads: 1 / 8 };
  const light: FindProfile = () => good(eighth);
  const ok = (count: number) => parseRack("mine.yaml", HEAD + gangOf(count), light).ok;
  expect([ok(256), ok(257)]).toEqual([true, false]);
});

const onCircuit = (count: number, more = "") =>
  Array.from({ length: count }, (_, index) => spot(`F${index}`, 1 + 30 * index, `, circuit: A${more}`)).join("");

/** NFPA 70 (NEC) 210.20(A), secondary: 0.8 of the rating for hours. A spot draws 4.2 A, 7 A while it starts, and leaks 1.4 mA. */
test.each([
  { because: "six spots are 25.2 A, and 32 A carry 25.6 A for hours", count: 6, wrong: undefined },
  {
    because: "seven are too many",
    count: 7,
    wrong: /carry 29\.4 A for hours, F6 is past the 25\.6 A it may \(0\.8 of 32 A\)/,
  },
  {
    because: "your code may allow the whole rating",
    count: 7,
    change: ["rating_a: 32", "continuous_factor: 1, rating_a: 33"],
    wrong: undefined,
  },
  {
    because: "at half the mains voltage it is twice the current",
    count: 4,
    change: ["volts: 230", "volts: 115"],
    wrong: /would carry 33\.6 A for hours/,
  },
  {
    because: "one alone may be too much while it starts",
    count: 1,
    change: ["rating_a: 32", "rating_a: 6"],
    wrong: /F0 cannot start on circuit A/,
  },
  {
    because: "leakage adds up behind one RCD",
    count: 6,
    change: ["budget_ma: 15", "budget_ma: 7"],
    wrong: /would bear 8\.4 mA of leakage, F5 is past its budget of 7 mA/,
  },
] as const)("circuits: $because", ({ count, wrong, ...more }) => {
  const [from, to] = "change" in more ? more.change : ["", ""];
  const words = told(HEAD.replace(from, to) + onCircuit(count));
  if (wrong) expect(words).toMatch(wrong);
  else expect(words).toBe("");
});

test("a circuit with a fixture on it that draws nobody knows what cannot be reckoned, and says so", () => {
  const silent: FindProfile = (name) => good({ ...shippedProfile(name), power: undefined });
  const result = parseRack("mine.yaml", HEAD + onCircuit(1), silent);
  expect(result.ok ? "" : tellProblems(result.problems)).toMatch(/no current is known for spot-16bit/);
});

test.each([
  { line: "output: srial:x", says: /5:\d+: "srial:x" is not an output/, because: "nothing is called that" },
  { line: "output: sacn:2", says: /sACN must be told where to go/, because: "packets need an address" },
  { line: "output: sacn:2, to: 10.0.0.300", says: /"10.0.0.300" is not an IPv4 address/, because: "this is none" },
  { line: "output: sacn:2, to: 10.0.0.5", says: /^$/, because: "all is said" },
])("a DMX line with $line: $because", ({ line, says }) => {
  expect(told(HEAD.replace("circuits:", `  - { universe: 2, ${line} }\ncircuits:`) + spot("A", 1))).toMatch(says);
});

test("one interface cannot carry two universes", () => {
  const twice = HEAD.replace("circuits:", '  - { universe: 2, output: "serial:/dev/ttyUSB0" }\ncircuits:');
  expect(told(twice + spot("A", 1))).toMatch(/serial:\/dev\/ttyUSB0 already carries universe 1/);
});

test("the shipped racks hold 12 and 24 fixtures, the larger one on two universes", () => {
  expect(shippedRack("demo").fixtures).toHaveLength(12);
  const { fixtures } = shippedRack("two-universes");
  expect(fixtures).toHaveLength(24);
  expect(new Set(fixtures.map(({ start }) => start?.universe))).toEqual(new Set([1, 2]));
});
