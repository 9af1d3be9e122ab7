import { expect, test } from "vitest";
import { luxAt, readingsFromTable, usualDistance } from "../../src/data/rack/readings.ts";
import { tellProblems } from "../../src/domain/problem/problem.ts";
import { readingsCharts } from "../../src/reports/rack-readings.ts";
import { chartsText } from "../../src/reports/rack-readings-text.ts";
import { must, shippedRack } from "../kit/shipped.ts";

const RACK = shippedRack("two-universes");
const charts = (table: string) => readingsCharts(must(readingsFromTable("r.csv", table, RACK)));
const told = (table: string): string => {
  const read = readingsFromTable("r.csv", table, RACK);
  return read.ok ? "" : tellProblems(read.problems);
};

/** The inverse-square law (Lambert 1760): by hand, 16 times 100 is 1600. */
test("light at a quarter of the distance is sixteen times as much", () => {
  expect(luxAt({ lux: 100, at: 8 }, 2)).toBe(1600);
  expect(luxAt({ lux: 6700, at: 6 }, 5)).toBeCloseTo(9648, 6);
});

test("light is reckoned to the distance that most were read at", () => {
  expect(usualDistance([6, 5, 5, 6, 5])).toBe(5);
  expect(usualDistance([4])).toBe(4);
  expect(usualDistance([])).toBeUndefined();
});

const TABLE = `serial;lux;at_m;x;y;Pan_s
SP-201;10200;5;0,3128;0,3290;2,61
SP-202;9900;5;0,3131;0,3301;2,58
SP-203;10500;5;0,3125;0,3285;2,63
SP-204;6100;5;0,3402;0,3512;2,60
SP-205;6700;6;0,3133;0,3299;2,95
SP-206;10050;5;0,3120;0,3292;2,57
SP-207;10350;5;0,3129;0,3296;2,62
SP-208;9800;5;0,3127;0,3288;2,59
LW-201;3000;5;;;
LW-202;3100;5;;;
`;

test("readings stand side by side along a scale, the odd ones are named, and what they can show is said", () => {
  const page = chartsText(charts(TABLE));
  for (const line of page) expect(line.length).toBeLessThanOrEqual(80);
  expect(page.join("\n")).toMatchInlineSnapshot(`
    "Light at 5 m, lux: Spot, 16-bit pan and tilt, 30 slots

      SP-201  10200  ...............[.............|o............]
      SP-202   9900  ...............[............o|.............]
      SP-203  10500  ...............[.............|..o..........]
      SP-204   6100  o..............[.............|.............]  odd
      SP-205   9648  ...............[..........o..|.............]
      SP-206  10050  ...............[.............o.............]
      SP-207  10350  ...............[.............|.o...........]
      SP-208   9800  ...............[...........o.|.............]

      o a reading    | the middle of those that are not suspect    [ ] the limits

    SP-204 (top left, 4th from the left) is suspect: 6100 lux, 39 % below the middle
    of the others.
    SP-205: read at another distance and calculated to 5 m by its square, which a
    narrow beam follows only roughly.


    Colour x: Spot, 16-bit pan and tilt, 30 slots

      SP-201  0.3128  [....|o....]................................
      SP-202  0.3131  [....|o....]................................
      SP-203  0.3125  [....o.....]................................
      SP-204  0.3402  [....|.....]...............................o  odd
      SP-205  0.3133  [....|o....]................................
      SP-206  0.3120  [...o|.....]................................
      SP-207  0.3129  [....|o....]................................
      SP-208  0.3127  [....o.....]................................

      o a reading    | the middle of those that are not suspect    [ ] the limits

    SP-204 (top left, 4th from the left) is suspect: 0.3402, 0.0274 above the middle
    of the others.


    Colour y: Spot, 16-bit pan and tilt, 30 slots

      SP-201  0.3290  [.....o|.....]..............................
      SP-202  0.3301  [......|o....]..............................
      SP-203  0.3285  [....o.|.....]..............................
      SP-204  0.3512  [......|.....].............................o  odd
      SP-205  0.3299  [......|o....]..............................
      SP-206  0.3292  [.....o|.....]..............................
      SP-207  0.3296  [......o.....]..............................
      SP-208  0.3288  [.....o|.....]..............................

      o a reading    | the middle of those that are not suspect    [ ] the limits

    SP-204 (top left, 4th from the left) is suspect: 0.3512, 0.0219 above the middle
    of the others.


    Full travel of pan, s: Spot, 16-bit pan and tilt, 30 slots

      SP-201  2.61  [...............o..............]............
      SP-202  2.58  [.............o.|..............]............
      SP-203  2.63  [...............|.o............]............
      SP-204  2.60  [...............o..............]............
      SP-205  2.95  [...............|..............]...........o  odd
      SP-206  2.57  [............o..|..............]............
      SP-207  2.62  [...............|o.............]............
      SP-208  2.59  [..............o|..............]............

      o a reading    | the middle of those that are not suspect    [ ] the limits

    SP-205 (top left, 5th from the left) is suspect: 2.95 s, 0.35 s above the middle
    of the others.


    Light at 5 m, lux: LED wash with zoom, 16 slots

      LW-201  3000  o...........................................
      LW-202  3100  ...........................................o


    What 8 of a kind can show: one that is six times as far off as good ones differ
    among themselves is named 5 times in 10, two such 2 times in 10. With nothing
    wrong, no more than one rack of 20 has a name all the same, all its readings
    taken together. Simulated.
    With 2 of a kind no reading can say which one is suspect: compare them by eye,
    or with one that is known to be good."
  `);
});

test("the charts are data for any other page: each reading with its place, limits around those that are not odd", () => {
  const [light] = charts(TABLE);
  expect(light?.rows[3]).toEqual({
    serial: "SP-204",
    place: "top left, 4th from the left",
    value: 6100,
    words: "6100",
    odd: true,
  });
  expect(light?.limits?.middle).toBeCloseTo((10200 + 9900 + 10500 + 9648 + 10050 + 10350 + 9800) / 7, 6);
  for (const { value, odd } of light?.rows ?? [])
    expect(value >= light!.limits!.low && value <= light!.limits!.high).toBe(!odd);
});

test("a steady rack is not odd for a difference that nobody would see", () => {
  const rows = ["1000", "1000", "1001", "1000", "1000", "1030"].map((lux, index) => `SP-20${index + 1},${lux},5`);
  const [light] = charts(`serial,lux,at_m\n${rows.join("\n")}\n`);
  expect(light?.said).toEqual(["None of these 6 differs from the others."]);
});

test("fixtures of different kinds are never compared", () => {
  const rows = [1, 2, 3, 4].flatMap((n) => [`SP-20${n},10000,5`, `LW-20${n},3000,5`]);
  const both = charts(`serial,lux,at_m\n${rows.join("\n")}\n`);
  expect(both.map(({ kind, rows: of }) => [kind, of.length])).toEqual([
    ["Spot, 16-bit pan and tilt, 30 slots", 4],
    ["LED wash with zoom, 16 slots", 4],
  ]);
});

test("every mistake in the readings names its line, all at once", () => {
  const table = "serial,lux,at_m,x,y,Pan_s\nSP-21,100,5,,,\nSP-201,100,,,,\nSP-201,,,0.3,1.2,fast\n";
  expect(told(table)).toMatchInlineSnapshot(`
    "r.csv:2:1: there is no SP-21 in this rack (did you mean "SP-201"?)
      SP-21,100,5,,,
      ^^^^^

    r.csv:3:1: "lux" and "at_m" go together (light is told with the distance it was read at)
      SP-201,100,,,,
      ^^^^^^^^^^^^^^

    r.csv:4:1: SP-201 came before (one row for each fixture)
      SP-201,,,0.3,1.2,fast
      ^^^^^^

    r.csv:4:14: "1.2" is not a reading (above 0, at most 1)
      SP-201,,,0.3,1.2,fast
                   ^^^

    r.csv:4:18: "fast" is not a reading (a number above 0)
      SP-201,,,0.3,1.2,fast
                       ^^^^"
  `);
});
