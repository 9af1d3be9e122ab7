import { type Stock, stockOf } from "../../src/run/memory/stock.ts";
import { HOSTILE_TEXTS } from "../kit/hostile.ts";
import { briefFrom, foundBody, type Happened, standingsFrom } from "../run/memory/happened.ts";

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
export const hostileStock = (): Stock =>
  stocked(
    HOSTILE_TEXTS.map((text, n) => ({
      run: `r${n}`,
      serial: text,
      profile: text,
      ...failed,
      after: [foundBody("iris-leaf-bent")],
    })),
  );

const stocked = (happened: readonly Happened[]): Stock =>
  stockOf(happened.map(briefFrom), standingsFrom(...happened), "real");
