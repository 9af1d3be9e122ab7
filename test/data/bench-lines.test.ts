import { expect, test } from "vitest";
import { parseBench } from "../../src/data/bench/bench.ts";
import { isMistake, outputName, parseOutput } from "../../src/data/bench/output.ts";
import { tellProblems } from "../../src/domain/problem/problem.ts";

const BENCH = `bench: mine
target_m: 5
target: { pan_deg: 0, tilt_deg: 10 }
beam_sector: { pan_deg: [-40, 40], tilt_deg: [-25, 40] }
attitude: standing
`;
const benchWith = (lines: string) => parseBench("mine.yaml", `${BENCH}lines:\n${lines}`);

test("a bench file says which universe goes out where, on outputs of every kind", () => {
  const bench = benchWith(`  - { universe: 1, output: "serial:/dev/ttyUSB0" }
  - { universe: 2, output: "sacn:2", to: 10.0.0.5 }
  - { universe: 3, output: "sacn:3", to: multicast }
  - { universe: 4, output: "artnet:0", to: 10.0.0.6 }
`);
  expect(bench.ok && bench.value.lines).toEqual([
    { universe: 1, output: { kind: "serial", path: "/dev/ttyUSB0" } },
    { universe: 2, output: { kind: "sacn", universe: 2, to: "10.0.0.5" } },
    { universe: 3, output: { kind: "sacn", universe: 3, to: "multicast" } },
    { universe: 4, output: { kind: "artnet", universe: 0, to: "10.0.0.6" } },
  ]);
});

test("without lines a bench has none", () => {
  const bench = parseBench("mine.yaml", BENCH);
  expect(bench.ok && bench.value.lines).toEqual([]);
});

test("everything that is wrong with the lines is said at once, each at its place", () => {
  const bench = benchWith(`  - { universe: 1, output: "serial:/dev/ttyUSB0" }
  - { universe: 1, output: "serial:/dev/ttyUSB0" }
  - { universe: 2, output: "sacn:70000", to: 10.0.0.5 }
  - { universe: 3, output: "sacn:3", to: 10.0.0 }
  - { universe: 4, output: "artnet:4" }
  - { universe: 5, output: sim }
  - { universe: 6, output: "serial:/dev/ttyUSB1", to: 10.0.0.5 }
`);
  expect(bench.ok ? "" : `${tellProblems(bench.problems)}\n`).toBe(`mine.yaml:8:17: universe 1 has a line already
    - { universe: 1, output: "serial:/dev/ttyUSB0" }
                  ^

mine.yaml:8:28: universe 1 goes out there already
    - { universe: 1, output: "serial:/dev/ttyUSB0" }
                             ^^^^^^^^^^^^^^^^^^^^^

mine.yaml:9:28: "70000" is not a universe of sACN (1 to 63999, such as sacn:2)
    - { universe: 2, output: "sacn:70000", to: 10.0.0.5 }
                             ^^^^^^^^^^^^

mine.yaml:10:42: "10.0.0" is not an IPv4 address (such as 10.0.0.5, or "multicast")
    - { universe: 3, output: "sacn:3", to: 10.0.0 }
                                           ^^^^^^

mine.yaml:11:5: Art-Net must be told where to go (such as 10.0.0.5)
    - { universe: 4, output: "artnet:4" }
      ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^

mine.yaml:12:28: a simulated line belongs to no bench (name --output sim instead)
    - { universe: 5, output: sim }
                             ^^^

mine.yaml:13:55: "serial:/dev/ttyUSB1" goes nowhere else (only for sacn: and artnet:)
    - { universe: 6, output: "serial:/dev/ttyUSB1", to: 10.0.0.5 }
                                                        ^^^^^^^^
`);
});

test("two universes may go to one receiver, but not on one universe of it", () => {
  const two = (second: string) =>
    benchWith(`  - { universe: 1, output: "sacn:1", to: 10.0.0.5 }\n  - { universe: 2, output: ${second} }\n`);
  expect(two('"sacn:2", to: 10.0.0.5').ok).toBe(true);
  expect(two('"sacn:1", to: 10.0.0.5').ok).toBe(false);
});

test.each([
  { text: "sim", to: undefined },
  { text: "serial:/dev/ttyUSB0", to: undefined },
  { text: "serial:/dev/a cable to nowhere", to: undefined },
  { text: "sacn:2", to: "10.0.0.5" },
  { text: "sacn:63999", to: "multicast" },
  { text: "artnet:0", to: "127.0.0.1" },
])("$text is kept in one text that names the same output again", ({ text, to }) => {
  const output = parseOutput(text, to);
  expect(isMistake(output)).toBe(false);
  if (!isMistake(output)) expect(parseOutput(outputName(output), undefined)).toEqual(output);
});

// Special addresses: RFC 1122 section 3.2.1.3, RFC 5771; universes: ANSI E1.31 and Art-Net 4 (secondary).
test.each([
  { text: "cable", to: undefined, about: "output", because: "no such kind" },
  { text: "serial:", to: undefined, about: "output", because: "no path" },
  { text: "sacn:0", to: "10.0.0.5", about: "output", because: "sACN counts from 1" },
  { text: "sacn:64000", to: "10.0.0.5", about: "output", because: "past the last" },
  { text: "sacn:1.5", to: "10.0.0.5", about: "output", because: "no whole number" },
  { text: "artnet:32768", to: "10.0.0.5", about: "output", because: "past 15 bits" },
  { text: "artnet:1", to: "multicast", about: "to", because: "Art-Net has no groups" },
  { text: "sacn:1", to: undefined, about: "to", because: "nothing is sent where nobody said" },
  { text: "sacn:1", to: "node.local", about: "to", because: "names are not looked up" },
  { text: "sacn:1", to: "255.255.255.255", about: "to", because: "everybody" },
  { text: "sacn:1", to: "239.255.0.2", about: "to", because: "another universe's group" },
  { text: "sacn:1", to: "0.0.0.0", about: "to", because: "nowhere" },
  { text: "sim", to: "10.0.0.5", about: "to", because: "the simulated line goes nowhere" },
])("$text to $to is a mistake: $because", ({ text, to, about }) => {
  expect(parseOutput(text, to)).toMatchObject({ about });
});
