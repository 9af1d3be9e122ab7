import { expect, test } from "vitest";
import { planAddresses } from "../../src/data/rack/addresses.ts";
import { planStarts } from "../../src/data/rack/power.ts";
import { addressList, rackDrawn, rackInWords, startsInWords } from "../../src/reports/rack.ts";
import { shippedRack } from "../kit/shipped.ts";

test("a rack with nothing wrong: what its lines and circuits carry, and the order to switch it on", () => {
  const rack = shippedRack("demo");
  expect([...rackInWords(rack), "", ...startsInWords(planStarts(rack))].join("\n")).toMatchInlineSnapshot(`
    "Twelve invented fixtures on three shelves: 12 fixtures, nothing wrong.

    top
      +-----------+-----------+-----------+-----------+
      | SP-101    | SP-102    | SP-103    | SP-104    |
      | 1/1       | 1/31      | 1/61      | 1/91      |
      | circuit A | circuit A | circuit A | circuit A |
      +-----------+-----------+-----------+-----------+
    middle
      +-----------+-----------+-----------+-----------+
      | BM-101    | BM-102    | BM-103    | BM-104    |
      | 1/121     | 1/139     | 1/157     | 1/175     |
      | circuit A | circuit A | circuit B | circuit B |
      +-----------+-----------+-----------+-----------+
    bottom
      +-----------+-----------+-----------+-----------+
      | LW-101    | LW-102    | LW-103    | LW-104    |
      | 1/193     | 1/209     | 1/225     | 1/241     |
      | circuit B | circuit B | circuit B | circuit B |
      +-----------+-----------+-----------+-----------+

    DMX lines
      universe 1 on sim: 12 fixtures up to slot 256, 12 unit loads, of 32 on each
      stretch of cable

    Circuits
      A  22 A for hours, of 25.6 A (0.8 of 32 A at 230 V); 37 A if all start at
         once, as after a power cut: too much
      B  13.6 A for hours, of 25.6 A (0.8 of 32 A at 230 V); 19.4 A if all start at
         once, as after a power cut
      RCD one: 12.8 mA of leakage, of 15 mA

    Switching on, so that no circuit carries too much
      at once            top: SP-101, SP-102, SP-103, SP-104; middle: BM-103,
                         BM-104; bottom: LW-101, LW-102, LW-103, LW-104
      after 55 s         middle: BM-101, BM-102
      The last one has started after 1 min 45 s.
      Calculated from what the profiles say; the surge of the first moment is not in
      it. What a circuit and an RCD may carry is for your local code and a qualified
      person to say."
  `);
});

test("no line is wider than a page", () => {
  for (const name of ["demo", "two-universes"]) {
    const rack = shippedRack(name);
    for (const line of [...rackInWords(rack), ...startsInWords(planStarts(rack))]) expect(line.length).toBeLessThan(81);
  }
});

test("fixtures that nobody gave a circuit are named, and nothing is said about switching on", () => {
  const rack = shippedRack("demo");
  const bare = { ...rack, circuits: [], fixtures: rack.fixtures.map((one) => ({ ...one, circuit: undefined })) };
  expect(startsInWords(planStarts(bare)).join(" ")).toMatch(/^Nobody said what feeds SP-101, SP-102, /);
});

test("the rack is drawn as it stands: every fixture once on its shelf, none wider than a page", () => {
  for (const name of ["demo", "two-universes"]) {
    const rack = shippedRack(name);
    const rows = rackDrawn(rack);
    for (const { serial } of rack.fixtures) expect(rows.join("\n").split(serial)).toHaveLength(2);
    for (const row of rows) expect(row.length).toBeLessThan(81);
    expect(rows.filter((row) => /^\S/.test(row))).toEqual([...new Set(rack.fixtures.map(({ place }) => place.shelf))]);
  }
});

test("the list goes by shelf, with a box where an address has to be set", () => {
  const rack = shippedRack("two-universes");
  const pages = addressList(rack, planAddresses(rack, "anew").fixtures);
  expect(pages.map((page) => page.join("\n")).join("\n----\n")).toMatchInlineSnapshot(`
    "Twenty-four invented fixtures on two universes: 12 of 24 addresses to set

    top left
          1st from the left  SP-201  universe 1  address   1  spot-16bit
          2nd from the left  SP-202  universe 1  address  31  spot-16bit
          3rd from the left  SP-203  universe 1  address  61  spot-16bit
          4th from the left  SP-204  universe 1  address  91  spot-16bit
          5th from the left  SP-205  universe 1  address 121  spot-16bit
          6th from the left  SP-206  universe 1  address 151  spot-16bit

    top right
          1st from the left  SP-207  universe 1  address 181  spot-16bit
          2nd from the left  SP-208  universe 1  address 211  spot-16bit
          3rd from the left  SP-209  universe 1  address 241  spot-16bit
          4th from the left  SP-210  universe 1  address 271  spot-16bit
          5th from the left  SP-211  universe 1  address 301  spot-16bit
          6th from the left  SP-212  universe 1  address 331  spot-16bit

    bottom left
      [ ] 1st from the left  LW-201  universe 1  address 361  led-wash
      [ ] 2nd from the left  LW-202  universe 1  address 377  led-wash
      [ ] 3rd from the left  LW-203  universe 1  address 393  led-wash
      [ ] 4th from the left  LW-204  universe 1  address 409  led-wash
      [ ] 5th from the left  LW-205  universe 1  address 425  led-wash
      [ ] 6th from the left  LW-206  universe 1  address 441  led-wash

    bottom right
      [ ] 1st from the left  LW-207  universe 1  address 457  led-wash
      [ ] 2nd from the left  LW-208  universe 1  address 473  led-wash
      [ ] 3rd from the left  LW-209  universe 1  address 489  led-wash
      [ ] 4th from the left  LW-210  universe 2  address   1  led-wash
      [ ] 5th from the left  LW-211  universe 2  address  17  led-wash
      [ ] 6th from the left  LW-212  universe 2  address  33  led-wash"
  `);
});

test("a long rack is printed on pages of at most 60 lines, and every fixture is on one of them", () => {
  const rack = shippedRack("demo");
  const fixtures = Array.from({ length: 100 }, (_, index) => ({ ...rack.fixtures[0]!, serial: `long-${index}` }));
  const pages = addressList({ ...rack, fixtures }, fixtures);
  expect(pages.map((page) => page.length)).toEqual([60, 44]);
  expect(pages.map((page) => page[0])).toEqual([
    "Twelve invented fixtures on three shelves: 0 of 100 addresses to set, page 1 of 2",
    "Twelve invented fixtures on three shelves: 0 of 100 addresses to set, page 2 of 2",
  ]);
  for (const { serial } of fixtures) expect(pages.flat().filter((row) => row.includes(`${serial} `))).toHaveLength(1);
});
