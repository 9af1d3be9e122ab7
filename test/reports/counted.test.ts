import { describe, expect, test } from "vitest";
import { parseShop } from "../../src/data/shop/shop.ts";
import { tellHistory } from "../../src/reports/history-text.ts";
import { tellStock } from "../../src/reports/stock-text.ts";
import type { EventBody, RunEvent } from "../../src/run/events/event.ts";
import { fixtureHistoryOf } from "../../src/run/memory/history.ts";
import { stockOf } from "../../src/run/memory/stock.ts";
import { dueAt } from "../../src/run/release/levels.ts";
import { must } from "../kit/shipped.ts";
import { briefFrom, eventsOf, type Happened, standingFrom, standingsFrom } from "../run/memory/happened.ts";

/** What a fixture counts itself and says over RDM: hours, lamp strikes, power cycles. */
const saying = (counters: Extract<EventBody, { kind: "fixture-said" }>["counters"]): readonly EventBody[] => [
  {
    kind: "fixture-said",
    ...{ uid: "7FF0:00000002", maker: "", model: "", label: "", software: "", serial: "S-1" },
    ...{ counters, settings: {}, sensors: [], status: [], slots: [], self_tests: [], troubles: [] },
  },
  ...(counters.LAMP_HOURS === undefined ? [] : [sourceHours(counters.LAMP_HOURS)]),
];
const sourceHours = (value: number): EventBody => ({
  ...{ kind: "reading-taken", reading: "source-hours", value, unit: "h", verdict: "within" },
  ...{ initials: "", note: "", source: "fixture" },
});
const visit = (day: number, counters: Parameters<typeof saying>[0]): Happened => ({
  run: `day-${day}`,
  serial: "S-1",
  at: `2026-11-${String(day).padStart(2, "0")}T09:00:00.000Z`,
  profile: "spot",
  steps: [{ of: "Pan", result: "pass" }],
  after: saying(counters),
});

describe("hours and strikes that the fixture counts", () => {
  const [first, later] = [
    visit(1, { LAMP_HOURS: 310, LAMP_STRIKES: 96, DEVICE_HOURS: 1520 }),
    visit(20, { LAMP_HOURS: 402, LAMP_STRIKES: 131, DEVICE_HOURS: 1650 }),
  ];

  test("stand in the stock beside the serial, as it said them last", () => {
    const stock = tellStock(stockOf([first, later].map(briefFrom), standingsFrom(first, later), "real"));
    expect(stock).toContain("S-1, spot (lamp 402 h, 131 strikes, device 1650 h)");
  });

  test("stand in the history of the serial, visit by visit", () => {
    const runs = [first, later].map(briefFrom);
    const text = tellHistory(fixtureHistoryOf("S-1", runs, standingFrom("S-1", later))!).replaceAll(/\s+/g, " ");
    expect(text).toContain("device hours 1520, lamp hours 310, lamp strikes 96");
    expect(text).toContain("device hours 1650, lamp hours 402, lamp strikes 131");
    expect(text).not.toContain("lower than before");
  });

  test("that are lower than before say so: a board was changed, or somebody set them back", () => {
    const changed = visit(25, { LAMP_HOURS: 420, LAMP_STRIKES: 140, DEVICE_HOURS: 12 });
    const runs = [first, later, changed].map(briefFrom);
    const text = tellHistory(fixtureHistoryOf("S-1", runs, standingFrom("S-1", changed))!).replaceAll(/\s+/g, " ");
    expect(text).toContain("device hours lower than before: was a board changed, or were they set back?");
  });
});

describe("what is due by what the fixture counts", () => {
  const due = (every: string, counted: readonly Parameters<typeof saying>[0][]): string => {
    const text = `shop: s\ntitle: S\nlevels:\n  - { level: own, title: Own, needs: [{ inspection: plug-and-cord, every: ${every} }] }\n`;
    const [level] = must(parseShop("s.yaml", text)).levels;
    const history: readonly RunEvent[] = counted.flatMap((counters, n) => eventsOf(visit(n + 1, counters)));
    return dueAt(level!, history, "2026-11-28T12:00:00.000Z")[0]?.words ?? "";
  };

  test.each([
    {
      every: "{ hours: 120 }",
      counted: [{ LAMP_HOURS: 310 }, { LAMP_HOURS: 402 }],
      is: "after 28 h",
      because: "92 of 120 hours are over",
    },
    {
      every: "{ hours: 120 }",
      counted: [{ LAMP_HOURS: 310 }, { LAMP_HOURS: 431 }],
      is: "now",
      because: "121 hours are over",
    },
    {
      every: "{ hours: 120 }",
      counted: [{ LAMP_HOURS: 310 }, { LAMP_HOURS: 402 }, { LAMP_HOURS: 5 }, { LAMP_HOURS: 20 }],
      is: "after 8 h",
      because: "a lamp was changed and its hours set to 0: the 92 before and the 20 since both count",
    },
    {
      every: "{ strikes: 50 }",
      counted: [{ LAMP_STRIKES: 96 }, { LAMP_STRIKES: 131 }],
      is: "after 15 lamp strikes",
      because: "35 of 50 strikes",
    },
    {
      every: "{ hours: 500, strikes: 30 }",
      counted: [
        { LAMP_HOURS: 310, LAMP_STRIKES: 96 },
        { LAMP_HOURS: 402, LAMP_STRIKES: 131 },
      ],
      is: "now",
      because: "the first limit that is passed counts",
    },
    {
      every: "{ strikes: 50 }",
      counted: [{ LAMP_HOURS: 310 }, { LAMP_HOURS: 402 }],
      is: "after 50 lamp strikes",
      because: "it counts no strikes: then hours or months are the limit to set",
    },
  ])("every $every: $is, since $because", ({ every, counted, is }) => {
    expect(due(every, counted)).toBe(is);
  });
});
