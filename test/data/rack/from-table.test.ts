import fc from "fast-check";
import { expect, test } from "vitest";
import { rackFromTable } from "../../../src/data/rack/from-table.ts";
import { draftRack, type FindProfile } from "../../../src/data/rack/parse.ts";
import { bad, good, problem, tellProblems } from "../../../src/domain/problem/problem.ts";
import { must, shippedProfile } from "../../kit/shipped.ts";

const SPOT = shippedProfile("spot-16bit");
const find: FindProfile = (name) =>
  name === "spot-16bit"
    ? good(SPOT)
    : bad(problem(name, "there is no profile of this name", 'did you mean "spot-16bit"?'));
const made = (text: string) => rackFromTable("truck.csv", text, "truck", find);

test("a row becomes a fixture; what a table cannot say is filled in as the simulated bench has it", () => {
  const text = must(
    made(
      'serial,profile,place,universe,address\nA-1,spot-16bit,"top shelf, 1st",1,31\n0042,spot-16bit,"low, left",,\n',
    ),
  );
  expect(text).toBe(`rack: truck
title: truck
lines:   # say what each universe really goes out on
  - { universe: 1, output: sim }
fixtures:
  - { serial: A-1, profile: spot-16bit, shelf: top shelf, place: "1st", universe: 1, address: 31 }
  - { serial: "0042", profile: spot-16bit, shelf: low, place: left }
`);
  const { rack } = must(draftRack("truck.yaml", text, find));
  expect(rack.fixtures.map(({ serial, start }) => [serial, start?.slot])).toEqual([
    ["A-1", 31],
    ["0042", undefined],
  ]);
});

test.each([
  {
    universe: 63_999,
    address: 512,
    taken: true,
    because: "the last universe of ANSI E1.31 and the last slot of ANSI E1.11",
  },
  { universe: 64_000, address: 1, taken: false, because: "ANSI E1.31, 6.2.7: 64000 and above are not for data" },
  { universe: 1, address: 513, taken: false, because: "a universe has 512 slots" },
])("universe $universe, address $address: taken $taken, $because", ({ universe, address, taken }) => {
  const result = made(`serial,profile,place,universe,address\nA-1,spot-16bit,"top, 1st",${universe},${address}\n`);
  expect(result.ok).toBe(taken);
});

test("every mistake names its line of the table, all at once", () => {
  const table = `serial,profile,place,universe,address
A-1,spot-16bit,"top, 1st",1,1
A-1,spot-16bt,"top, 2nd",1,0
,spot-16bit,middle,1,
`;
  const result = made(table);
  expect(result.ok ? "" : tellProblems(result.problems)).toMatchInlineSnapshot(`
    "truck.csv:3:1: serial A-1 came before
      A-1,spot-16bt,"top, 2nd",1,0
      ^^^

    truck.csv:3:5: there is no profile of this name (did you mean "spot-16bit"?)
      A-1,spot-16bt,"top, 2nd",1,0
          ^^^^^^^^^

    truck.csv:3:28: "0" is not a start address (1 to 512)
      A-1,spot-16bt,"top, 2nd",1,0
                                 ^

    truck.csv:4:1: "serial" is empty
      ,spot-16bit,middle,1,
      ^^^^^^^^^^^^^^^^^^^^^

    truck.csv:4:1: universe and address go together (both, or neither yet)
      ,spot-16bit,middle,1,
      ^^^^^^^^^^^^^^^^^^^^^

    truck.csv:4:13: no shelf (as in: "top shelf, 3rd from the left")
      ,spot-16bit,middle,1,
                  ^^^^^^"
  `);
});

test("whatever is written in the cells, the file that comes of it holds the same", () => {
  const cell = fc
    .string({ minLength: 1, maxLength: 20, unit: "grapheme-ascii" })
    .map((text) => text.trim())
    .filter((text) => text !== "" && text.length < 60);
  fc.assert(
    fc.property(cell, cell, (serial, shelf) => {
      const quoted = (text: string) => `"${text.replaceAll('"', '""')}"`;
      const text = `serial,profile,shelf,place\n${quoted(serial)},spot-16bit,${quoted(shelf)},left\n`;
      const [fixture] = must(draftRack("truck.yaml", must(made(text)), find)).rack.fixtures;
      expect([fixture?.serial, fixture?.place]).toEqual([serial, { shelf, position: "left" }]);
    }),
  );
});
