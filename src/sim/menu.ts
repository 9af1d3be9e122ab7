import type { FixtureBuild, PartBuild } from "./build.ts";

/** The settings in the fixture's own menu, as the last user left them. */
export interface Menu {
  readonly address: number;
  /** The other mode has no fine bytes where this one has them, and has them for pan and tilt where this one has none. */
  readonly mode: "own" | "other";
  readonly panInverted: boolean;
  readonly tiltInverted: boolean;
  readonly swapped: boolean;
  /** Share of pan and tilt that is used. */
  readonly range: number;
  readonly onDataLoss: "hold" | "dark";
}

/** The settings in the menu of a fixture as its shop wants them. */
export const houseDefaults = (build: FixtureBuild): Menu => ({
  address: build.startAddress,
  mode: "own",
  panInverted: false,
  tiltInverted: false,
  swapped: false,
  range: 1,
  onDataLoss: "hold",
});

/** Which slots each part listens to under these settings, in the order of the build's parts. */
export const slotsUnder = (menu: Menu, build: FixtureBuild): readonly (readonly number[])[] => {
  const mode = menu.mode === "own" ? build.parts.map((part) => part.slots) : otherMode(build.parts);
  if (!menu.swapped) return mode;
  const pan = build.parts.findIndex((part) => part.function === "Pan");
  const tilt = build.parts.findIndex((part) => part.function === "Tilt");
  return mode.map((slots, n) => (n === pan ? (mode[tilt] ?? slots) : n === tilt ? (mode[pan] ?? slots) : slots));
};

/** The same functions in the same order, counted through with other numbers of bytes. */
const otherMode = (parts: readonly PartBuild[]): readonly (readonly number[])[] => {
  const fine = parts.some((part) => part.slots.length > 1);
  const bytes = (part: PartBuild) => (!fine && (part.function === "Pan" || part.function === "Tilt") ? 2 : 1);
  const inOrder = [...parts].sort((a, b) => (a.slots[0] ?? 0) - (b.slots[0] ?? 0));
  const first = (part: PartBuild) =>
    1 + inOrder.slice(0, inOrder.indexOf(part)).reduce((count, before) => count + bytes(before), 0);
  return parts.map((part) => Array.from({ length: bytes(part) }, (_, n) => first(part) + n));
};
