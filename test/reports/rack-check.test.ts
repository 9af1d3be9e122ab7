import { expect, test } from "vitest";
import { planStarts } from "../../src/data/rack/power.ts";
import { rackDrawn, rackInWords, startsInWords } from "../../src/reports/rack-check.ts";
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
