import { fileLibrary } from "../../../src/io/files/files.ts";
import type { DataLibrary } from "../../../src/run/ports.ts";

/** Eight spots, eight washes and eight beams on two universes and four circuits: what is left of each kind is two. */
export const THREE_KINDS = "three-kinds";

const threeKinds = (): string => {
  const kinds = ["spot-16bit", "led-wash", "beam"];
  const fixtures = Array.from(
    { length: 24 },
    (_, n) =>
      `  - { serial: F-${n + 1}, profile: ${kinds[Math.floor(n / 8)]}, shelf: shelf ${Math.floor(n / 8) + 1}, place: "${(n % 8) + 1}", universe: ${n < 12 ? 1 : 2}, address: ${1 + (n % 12) * 40}, circuit: ${"ABCD"[Math.floor(n / 6)]} }`,
  );
  const circuits = ["A", "B", "C", "D"].map((name) => `  ${name}: { rating_a: 32, volts: 230 }`);
  const lines = [1, 2].map((universe) => `  - { universe: ${universe}, output: sim }`);
  return [
    `rack: ${THREE_KINDS}`,
    "title: Three kinds",
    "lines:",
    ...lines,
    "circuits:",
    ...circuits,
    "fixtures:",
    ...fixtures,
  ].join("\n");
};

/** The shipped files, and this rack beside them. */
export const threeKindsLibrary: DataLibrary = {
  names: (kind) => fileLibrary(process.cwd()).names(kind),
  read: (kind, name) =>
    kind === "racks" && name === THREE_KINDS
      ? { file: name, text: threeKinds() }
      : fileLibrary(process.cwd()).read(kind, name),
};
