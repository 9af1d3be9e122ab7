import { type FixtureHistory, fixtureHistoryOf } from "../../src/run/memory/history.ts";
import { type Stock, stockOf } from "../../src/run/memory/stock.ts";
import { HOSTILE_TEXTS } from "../kit/hostile.ts";
import { briefFrom, foundBody, type Happened, standingFrom, standingsFrom } from "../run/memory/happened.ts";

const day = (n: number) => `2026-11-${String(n).padStart(2, "0")}T09:00:00.000Z`;
const failed = { steps: [{ of: "Pan", result: "fail" }] } as const satisfies Partial<Happened>;

/** Forty-eight fixtures of two kinds; every sixth failed, and two came back with the same. */
export const usualStock = (): Stock => stocked([...CHECKED, ...AGAIN]);

const CHECKED = Array.from({ length: 48 }, (_, n): Happened => {
  const kind = { run: `r${n}`, serial: `S-${100 + n}`, at: day(1 + (n % 9)), profile: n % 2 ? "wash" : "spot" };
  return n % 6 === 0 ? { ...kind, ...failed, after: [foundBody("pan-belt-slack")] } : kind;
});

const AGAIN = [0, 6].map(
  (n): Happened => ({
    run: `again-${n}`,
    serial: `S-${100 + n}`,
    at: day(20),
    profile: "spot",
    ...failed,
    after: [foundBody("pan-belt-slack")],
  }),
);

/** Serials and names of kinds that try to be something else. */
export const hostileStock = (texts: readonly string[] = HOSTILE_TEXTS): Stock =>
  stocked(
    texts.map((text, n) => ({
      run: `r${n}`,
      serial: text,
      profile: text,
      ...failed,
      after: [foundBody("iris-leaf-bent")],
    })),
  );

const stocked = (happened: readonly Happened[]): Stock =>
  stockOf(happened.map(briefFrom), standingsFrom(...happened), "real");

/** Eleven runs of one fixture: a pan belt that came and went, an iris repaired in between. */
export const usualHistory = (): FixtureHistory => historied("S-100", PAST);

const PAST = Array.from(
  { length: 11 },
  (_, n): Happened => ({
    run: `h${n}`,
    serial: "S-100",
    at: day(1 + 2 * n),
    steps: [
      { of: "Pan", result: n % 4 === 1 ? "fail" : "pass" },
      { of: "Tilt", result: n === 6 ? "unsure" : "pass" },
      ...(n > 3 ? [{ of: "Iris" as const, result: n === 4 ? ("fail" as const) : ("pass" as const) }] : []),
    ],
    ...(n % 4 === 1 ? { after: [foundBody("pan-belt-slack")] } : {}),
  }),
);

export const hostileHistory = (texts: readonly string[] = HOSTILE_TEXTS): FixtureHistory =>
  historied(
    texts[0] ?? "",
    texts.map((text, n) => ({
      run: text,
      serial: texts[0] ?? "",
      sequence: text,
      at: day(1 + (n % 27)),
      ...failed,
      after: [foundBody("iris-leaf-bent", text)],
    })),
  );

const historied = (serial: string, happened: readonly Happened[]): FixtureHistory => {
  const history = fixtureHistoryOf(serial, happened.map(briefFrom), standingFrom(serial, ...happened));
  if (!history) throw new Error("no history");
  return history;
};
