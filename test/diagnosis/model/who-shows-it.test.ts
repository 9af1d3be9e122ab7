import { expect, test } from "vitest";
import { CONSEQUENCES } from "../../../src/diagnosis/model/knowledge/consequences.ts";
import type { PhysicalEffect, Shown } from "../../../src/diagnosis/model/knowledge/effect.ts";
import { EFFECTS, type EffectId } from "../../../src/diagnosis/model/knowledge/effects.ts";
import { FAULTS } from "../../../src/diagnosis/model/knowledge/faults.ts";

/**
 * Which fault has which effects and which effect shows what, as a repairer would say it. Numbers may be bettered freely, by
 * better reasons; who comes before whom is a statement about the trade and shows here. The page freezes judgement: it does
 * not say that the judgement is true. Common practice, no source.
 */
test("who does what, and what shows it, most often first", async () => {
  await expect(page()).toMatchFileSnapshot("./who-shows-it.txt");
});

test("every link stands on that page: any one taken out changes it", () => {
  const whole = page();
  const effects = Object.keys(EFFECTS) as EffectId[];
  const links = effects.flatMap((id) => (EFFECTS[id] as PhysicalEffect).shows.map(({ symptom }) => ({ id, symptom })));
  expect(links.length).toBeGreaterThan(200);
  const unnoticed = links.filter(({ id, symptom }) => {
    const less = { ...EFFECTS[id], shows: EFFECTS[id].shows.filter((one) => one.symptom !== symptom) };
    return page({ ...EFFECTS, [id]: less }) === whole;
  });
  expect(unnoticed).toEqual([]);
});

test("each number has its reason beside it", () => {
  const reasons = [
    ...Object.values<PhysicalEffect>(EFFECTS).flatMap(({ shows, brings }) => [...shows, ...brings]),
    ...Object.values<readonly Shown[]>(CONSEQUENCES).flat(),
    ...FAULTS.flatMap(({ does }) => does),
  ];
  expect(reasons.filter(({ because }) => because.trim().length < 5)).toEqual([]);
});

const page = (effects: Readonly<Record<string, PhysicalEffect>> = EFFECTS): string =>
  [
    ...FAULTS.map(
      ({ id, does }) =>
        `${id}: ${inOrder(does.map(({ effect, on, often }) => ({ often, words: on === "here" ? effect : `${effect} (${on})` })))}`,
    ),
    "",
    ...Object.entries(effects).map(
      ([id, { shows, brings }]) =>
        `${id}: ${inOrder([...shows.map(said), ...brings.map(({ consequence, often }) => ({ often, words: `[${consequence}]` }))])}`,
    ),
    "",
    ...Object.entries<readonly Shown[]>(CONSEQUENCES).map(([id, rows]) => `[${id}]: ${inOrder(rows.map(said))}`),
    "",
  ].join("\n");

const said = ({ symptom, often, on }: Shown) => ({
  often,
  words: on === "all" ? symptom : on.length < 3 ? `${symptom} (${on.join(", ")})` : `${symptom} (of ${on.length})`,
});

/** Equals stand side by side. */
const inOrder = (row: readonly { readonly often: number; readonly words: string }[]): string =>
  [...new Set(row.map(({ often }) => often))]
    .sort((a, b) => b - a)
    .map((often) =>
      row
        .filter((one) => one.often === often)
        .map(({ words }) => words)
        .sort()
        .join(" = "),
    )
    .join(" > ");
