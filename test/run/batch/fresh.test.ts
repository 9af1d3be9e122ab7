import fc from "fast-check";
import { expect, test } from "vitest";
import {
  type Attention,
  type Freshness,
  HELD_MS,
  heard,
  isListening,
  NOTHING_SHOWN,
  READ_MS,
  shownAt,
} from "../../../src/run/batch/guarded.ts";

/** A person at a page: it is drawn every 50 ms, and keys come at their times; what became of each key. */
const became = (pages: readonly (readonly [from: number, question: string])[], keys: readonly Key[]) => {
  const moments = [
    ...Array.from({ length: 400 }, (_, n) => ({ at: n * 50, key: undefined })),
    ...keys.map(([at, key]) => ({ at, key })),
  ].toSorted((a, b) => a.at - b.at);
  const outcomes: { readonly at: number; readonly question: string | undefined; readonly came: Freshness }[] = [];
  let attention: Attention = NOTHING_SHOWN;
  for (const { at, key } of moments) {
    const question = pages.findLast(([from]) => from <= at)?.[1];
    if (key === undefined) attention = shownAt(attention, question, at);
    else {
      const [after, came] = heard(attention, key, at);
      attention = after;
      outcomes.push({ at, question: attention.question, came });
    }
  }
  return outcomes;
};
type Key = readonly [at: number, key: string];
const PAGE = [[1000, "clear?"]] as const;

test.each<{ keys: readonly Key[]; last: Freshness; because: string }>([
  { keys: [[1450, "c"]], last: "fresh", because: "the page has been read" },
  { keys: [[1390, "c"]], last: "too soon", because: "nobody reads and decides so quickly" },
  { keys: [[900, "c"]], last: "too soon", because: "the page was not drawn yet" },
  {
    keys: [
      [900, "c"],
      [1500, "c"],
    ],
    last: "still held",
    because: "keyboards wait up to a second before they repeat",
  },
  {
    keys: [
      [400, "c"],
      [1500, "c"],
    ],
    last: "fresh",
    because: "it was let go meanwhile",
  },
  {
    keys: [
      [1450, "x"],
      [1460, "c"],
    ],
    last: "fresh",
    because: "another key is no repeat",
  },
])("$last, because $because", ({ keys, last }) => {
  expect(became(PAGE, keys).at(-1)?.came).toBe(last);
});

test("a key that is held counts once at most, whatever pages come and go meanwhile", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 3000 }),
      fc.integer({ min: 250, max: HELD_MS - 1 }),
      fc.integer({ min: 15, max: 500 }),
      fc.array(fc.integer({ min: 0, max: 9000 }), { maxLength: 8 }),
      (from, first, repeat, turns) => {
        const held = [from, ...Array.from({ length: 12 }, (_, n) => from + first + n * repeat)];
        const pages = turns.toSorted((a, b) => a - b).map((at, n) => [at, `question ${n}`] as const);
        const fresh = became(
          pages,
          held.map((at) => [at, "g"] as const),
        ).filter(({ came }) => came === "fresh");
        expect(fresh.length).toBeLessThanOrEqual(1);
      },
    ),
  );
});

test("no key answers a page before it has stood for 0.4 s", () => {
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: 0, max: 9000 }), { minLength: 1, maxLength: 8 }),
      fc.array(fc.tuple(fc.integer({ min: 0, max: 9000 }), fc.constantFrom("c", "g", "y")), { maxLength: 20 }),
      (turns, keys) => {
        const pages = turns.toSorted((a, b) => a - b).map((at, n) => [at, `question ${n}`] as const);
        for (const { at, question, came } of became(pages, keys)) {
          const since = pages.find(([, one]) => one === question)?.[0] ?? 0;
          if (came === "fresh") expect(at - since).toBeGreaterThanOrEqual(READ_MS);
        }
      },
    ),
  );
});

test("what was typed while the program stood still answers nothing: the page of that time was not drawn anew", () => {
  const before = shownAt(shownAt(NOTHING_SHOWN, "clear?", 0), "clear?", 350);
  const [, came] = heard(shownAt(before, "clear?", 3000), "c", 3001);
  expect(came).toBe("too soon");
  expect(isListening(shownAt(before, "clear?", 3000), 3000 + READ_MS)).toBe(true);
});
