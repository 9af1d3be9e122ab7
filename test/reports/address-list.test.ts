import { expect, test } from "vitest";
import { planAddresses } from "../../src/data/rack/plan-addresses.ts";
import { addressList } from "../../src/reports/address-list.ts";
import { shippedRack } from "../kit/shipped.ts";

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
