import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parseShop, type ReleaseLevel, shopFile } from "../../../src/data/shop/shop.ts";
import { COVER_IDS } from "../../../src/domain/trade/hold-points.ts";
import { INSPECTION_IDS } from "../../../src/domain/trade/inspections.ts";
import { READING_IDS } from "../../../src/domain/trade/readings.ts";
import type { EventBody, RunEvent } from "../../../src/run/events/event.ts";
import { dueAt, reasonsAtLevel } from "../../../src/run/release/levels.ts";
import { releaseStatusOf, verdictInWords, verdictOf } from "../../../src/run/release/release-status.ts";
import { bestOffer, dueNextInWords, levelOffers } from "../../../src/run/release/still-due.ts";
import { must, shippedText } from "../../kit/shipped.ts";
import { closed, FITTED, foundFault, judged, look, measured, opened, type StepName, started, told } from "./path.ts";

const SHOP = must(parseShop("shop.yaml", shippedText("shops/shop.yaml")));
const QUICK = SHOP.levels[0]!;
const TODAY = "2026-11-28T12:00:00.000Z";
const sequence = (name: string) => ({ name, text: "" });

/** A clean run of a sequence, as events of the journal. */
const played = (name: string, run: string, steps: readonly StepName[] = ["pan", "iris"]): readonly RunEvent[] =>
  dated(
    [
      { ...(opened(steps) as Extract<EventBody, { kind: "run-opened" }>), sequence: sequence(name) },
      ...steps.flatMap((step) => [started(step), judged(step, "pass")]),
      closed,
    ],
    run,
  );
const dated = (bodies: readonly EventBody[], run: string, at = "2026-11-20T09:00:00.000Z"): readonly RunEvent[] =>
  bodies.map((body, index) => ({ ...told(body, run), id: `${run}-${index}`, v: 1, bench: "b", at }));
const signedAt = (level: ReleaseLevel, history: readonly RunEvent[], run: string): readonly RunEvent[] => {
  const due = dueAt(level, history, TODAY).flatMap(({ need, now }) => (now ? [need] : []));
  return dated([{ kind: "signed-off", initials: "KM", note: "", level: { name: level.name, due } }], run);
};
const offers = (history: readonly RunEvent[], today = TODAY) => levelOffers(SHOP.levels, history, FITTED, today);

describe("the shop file that comes with Limber", () => {
  test("a clean quick check can be released at level quick, and not at full", () => {
    const now = offers(played("quick", "run-1"));
    expect(bestOffer(now)?.level).toBe("quick");
    expect(now.find(({ level }) => level === "full")?.reasons.length).toBeGreaterThan(3);
  });

  test("a full check is due after the fourth return, and until then it is said how many are left", () => {
    let history: readonly RunEvent[] = [];
    const said: string[] = [];
    for (const run of ["run-1", "run-2", "run-3", "run-4", "run-5"]) {
      history = [...history, ...played("quick", run)];
      const best = bestOffer(offers(history));
      said.push(best ? dueNextInWords(best) : "none");
      if (best) history = [...history, ...signedAt(QUICK, history, run)];
    }
    expect(said).toEqual([
      "Due next: full check after 4 more returns or 120 h or 11 months.",
      "Due next: full check after 3 more returns or 120 h or 11 months.",
      "Due next: full check after 2 more returns or 120 h or 11 months.",
      "Due next: full check after 1 more return or 120 h or 11 months.",
      "none",
    ]);
  });

  test("a year after it was first seen a full check is due, however few returns there were", () => {
    const history = played("quick", "run-1");
    expect(bestOffer(offers(history, "2027-12-01T00:00:00.000Z"))).toBeUndefined();
  });

  test("the signature says its level, and counts by what was due then", () => {
    const history = played("quick", "run-1");
    const standing = releaseStatusOf([...history, ...signedAt(QUICK, history, "run-1")], FITTED);
    expect(standing).toMatchObject({ state: "ready", signed: "KM", level: "quick" });
    expect(verdictInWords(verdictOf(standing))).toBe("Released at level quick by KM");
  });

  test("another sequence than the level asks for is not enough", () => {
    const history = played("first-look", "run-1");
    expect(bestOffer(offers(history))).toBeUndefined();
    const signature = signedAt(QUICK, history, "run-1");
    expect(releaseStatusOf([...history, ...signature], FITTED).state).not.toBe("ready");
  });
});

describe("what a shop may ask for", () => {
  const level = (text: string): ReleaseLevel =>
    must(parseShop("s.yaml", `shop: s\ntitle: S\nlevels:\n  - ${text}\n`)).levels[0]!;
  const blocked = (one: ReleaseLevel, history: readonly RunEvent[]) =>
    levelOffers([one], history, FITTED, TODAY)[1]!.reasons.map(({ words }) => words);

  test.each([
    {
      needs: "{ inspection: plug-and-cord, every: return }",
      says: ["not inspected: plug, inlet and cord"],
      met: look("plug-and-cord"),
      because: "an inspection",
    },
    {
      needs: "{ measurement: electrical-safety, every: { months: 1 } }",
      says: ["no signed measurement: electrical safety test"],
      met: measured("electrical-safety"),
      because: "a measurement that was never taken, a month after the fixture was first seen",
    },
  ])("$because", ({ needs, says, met }) => {
    const one = level(`{ level: own, title: Own, needs: [${needs}] }`);
    const history = dated(
      played("quick", "run-1").map(({ body }) => body),
      "run-1",
      "2026-10-01T09:00:00.000Z",
    );
    expect(blocked(one, history)).toEqual(says);
    expect(blocked(one, [...history, ...dated([met], "run-1")])).toEqual([]);
  });

  test.each([
    { text: "{ level: full, title: F, needs: [{ sequence: quick, every: return }] }", because: "full is always there" },
    {
      text: "{ level: Quick, title: F, needs: [{ sequence: quick, every: return }] }",
      because: "names are short words",
    },
    { text: "{ level: own, title: F, needs: [] }", because: "a level that asks for nothing is none" },
    { text: "{ level: own, title: F, needs: [{ inspection: plug, every: return }] }", because: "unknown names" },
    { text: "{ level: own, title: F, needs: [{ danger: none, every: return }] }", because: "dangers are no choice" },
  ])("is refused with its place: $because", ({ text }) => {
    const parsed = parseShop("s.yaml", `shop: s\ntitle: S\nlevels:\n  - ${text}\n`);
    expect(parsed.ok).toBe(false);
    if (!parsed.ok) expect(parsed.problems[0]?.place?.line).toBe(4);
  });
});

/** Any shop at all: any needs, due at every return or by any limits. */
const anyEvery = fc.oneof(
  fc.constant({ kind: "return" } as const),
  fc.record({
    kind: fc.constant("limits" as const),
    returns: fc.option(fc.integer({ min: 1, max: 9 }), { nil: undefined }),
    hours: fc.option(fc.integer({ min: 1, max: 900 }), { nil: undefined }),
    strikes: fc.option(fc.integer({ min: 1, max: 900 }), { nil: undefined }),
    months: fc.option(fc.integer({ min: 1, max: 24 }), { nil: undefined }),
  }),
);
const anyNeed = fc.oneof(
  fc.constantFrom("quick", "check-in", "none").map((name) => ({ kind: "sequence" as const, name })),
  fc.constantFrom(...INSPECTION_IDS).map((name) => ({ kind: "inspection" as const, name })),
  fc.constantFrom(...READING_IDS).map((name) => ({ kind: "measurement" as const, name })),
  fc.constantFrom(...COVER_IDS).map((name) => ({ kind: "cover" as const, name })),
);
const anyLevel: fc.Arbitrary<ReleaseLevel> = fc
  .array(fc.record({ need: anyNeed, every: anyEvery }), { maxLength: 4 })
  .map((needs) => ({ name: "any", title: "Any", needs }));

/** Each of these is wrong with an otherwise clean quick check. */
const WRONG: readonly { readonly bodies: readonly EventBody[]; readonly because: string }[] = [
  { bodies: [look("yoke-wires", "bad")], because: "bare conductor" },
  { bodies: [look("capacitors", "bad")], because: "bulged capacitor" },
  { bodies: [measured("earth-continuity", "outside")], because: "broken earth" },
  { bodies: [measured("electrical-safety", "outside")], because: "failed electrical test" },
  { bodies: [look("plug-and-cord", "bad")], because: "damaged cord that nobody repaired" },
  { bodies: [foundFault("insulation-worn")], because: "a fault that was found and not repaired" },
  { bodies: [started("pan"), judged("pan", "fail")], because: "a step that failed" },
  { bodies: [{ kind: "quarantined", reasons: [], initials: "KM", note: "water" }], because: "held back by a person" },
];

test.each(WRONG)("no shop file releases a fixture with: $because", ({ bodies }) => {
  fc.assert(
    fc.property(anyLevel, (level) => {
      const clean = played("quick", "run-1");
      const wrong = [...clean.slice(0, -1), ...dated(bodies, "run-1"), ...clean.slice(-1)];
      const due = dueAt(level, wrong, TODAY).flatMap(({ need, now }) => (now ? [need] : []));
      expect(reasonsAtLevel(wrong, FITTED, due).length).toBeGreaterThan(0);
      expect(releaseStatusOf([...wrong, ...signedAt(level, wrong, "run-1")], FITTED).state).not.toBe("ready");
    }),
  );
});

test("the schema is the file's own: what parses fits it", () => {
  expect(shopFile.safeParse({ shop: "s", title: "S", levels: [] }).success).toBe(true);
});
