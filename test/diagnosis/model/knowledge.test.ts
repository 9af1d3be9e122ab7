import { describe, expect, test } from "vitest";
import { does, type FaultEntry, type Knowledge } from "../../../src/diagnosis/model/knowledge/entry.ts";
import { FAULTS, type KnownFault } from "../../../src/diagnosis/model/knowledge/faults.ts";
import { type LayeredFault, marginals } from "../../../src/diagnosis/model/layers.ts";
import { isStranger, networkFor } from "../../../src/diagnosis/model/network.ts";
import { FUNCTION_IDS, FUNCTIONS } from "../../../src/domain/trade/functions.ts";
import { INSPECTION_IDS } from "../../../src/domain/trade/inspections.ts";
import { MECHANISMS } from "../../../src/domain/trade/mechanisms.ts";
import { SYMPTOMS } from "../../../src/domain/trade/symptoms.ts";

/** A fixture with everything that the trade knows. */
const EVERYTHING = FUNCTION_IDS.map((id) => ({ function: id, mechanism: FUNCTIONS[id].mechanism }));
const network = networkFor(EVERYTHING);
const shown = new Map(
  network.faults
    .filter(({ id }) => !isStranger(id))
    .map((fault) => [fault.id, marginals({ ...fault, ways: asIfStruck(fault.ways) })]),
);
/** As if the part in question were the one that it struck. */
function asIfStruck(ways: LayeredFault["ways"]): LayeredFault["ways"] {
  return ways.length === 0 ? [] : [{ share: 1, effects: ways.flatMap(({ effects }) => effects) }];
}
const findings = network.symptoms.map(({ id }) => ({
  id,
  best: Math.max(0, ...[...shown.values()].map((links) => links.get(id) ?? 0)),
  place: id.slice(0, id.lastIndexOf("/")),
  what: id.slice(id.lastIndexOf("/") + 1),
}));

describe("nothing dangles", () => {
  test("a symptom or inspection that is not in the trade's lists does not compile", () => {
    const entry = FAULTS[0]!;
    const typo = {
      // @ts-expect-error no such effect
      does: [does("plya", 0.5, "a slip of the pen")],
      // @ts-expect-error no such inspection
      found: { "look-at-it": 0.5 },
      retest: ["pan-drive"],
    } satisfies Partial<FaultEntry>;
    // @ts-expect-error no such mechanism
    const lost = { origin: "", faults: { one: { ...entry, retest: ["engine-room"] } } } satisfies Knowledge;
    expect([typo, lost]).toBeDefined();
  });

  test("all ids differ", () => {
    expect(new Set(FAULTS.map(({ id }) => id)).size).toBe(FAULTS.length);
  });

  test("every fault acts where it can show something", () => {
    const shownOutside = (id: string) => [...shown.get(id)!.keys()].some((key) => !key.startsWith("inspection/"));
    expect(
      FAULTS.filter(({ id, does: effects }) => effects.length > 0 && !shownOutside(id)).map(({ id }) => id),
    ).toEqual([]);
  });
});

describe("nothing is without a reason", () => {
  test("every finding is explained by some fault of its own mechanism or one that reaches it", () => {
    const own = findings.filter(({ place }) => place !== "inspection" && place !== "fixture");
    expect(own.filter(({ best }) => best < 0.04).map(({ id }) => id)).toEqual([]);
  });

  test("every symptom is plainly explained somewhere", () => {
    const best = (symptom: string) =>
      Math.max(...findings.filter(({ what }) => what === symptom).map((finding) => finding.best));
    expect(Object.keys(SYMPTOMS).filter((symptom) => !(best(symptom) >= 0.2))).toEqual([]);
  });

  test("every inspection finds some fault", () => {
    const best = (id: string) => findings.find((finding) => finding.id === `inspection/${id}`)?.best ?? 0;
    expect(INSPECTION_IDS.filter((id) => best(id) < 0.4)).toEqual([]);
  });

  test("every fault is found by a symptom or a inspection", () => {
    const hidden = FAULTS.filter(({ id }) => Math.max(0, ...shown.get(id)!.values()) < 0.4);
    expect(hidden.map(({ id }) => id)).toEqual([]);
  });
});

describe("every number is a number somebody stands for", () => {
  test.each<readonly [rule: string, holds: (fault: KnownFault) => boolean]>([
    ["says where it comes from", ({ origin }) => origin !== ""],
    ["has a prior above 0 and below 0.2", ({ prior }) => prior > 0 && prior < 0.2],
    [
      "has chances above 0 and below 1",
      ({ does: effects, found }) =>
        [...effects.map(({ often }) => often), ...Object.values(found)].every((value) => value > 0 && value < 1),
    ],
    ["takes some minutes", ({ minutes }) => minutes > 0],
    ["has all its words", ({ title, module, part, tool, remedy }) => ![title, module, part, tool, remedy].includes("")],
    ["says what is to be tested again", ({ retest }) => retest.length > 0],
  ])("every fault %s", (_, holds) => {
    expect(FAULTS.filter((fault) => !holds(fault)).map(({ id }) => id)).toEqual([]);
  });

  test("a fixture that comes back has about one and a half faults or settings to put right (judgement)", () => {
    expect(FAULTS.reduce((sum, { prior }) => sum + prior, 0)).toBeCloseTo(1.5, 0);
  });
});

/** Two faults can be told apart when some symptom or look is much more likely under one than under the other. */
test("no two faults look the same to every test and every look", () => {
  const apart = (a: string, b: string) =>
    network.symptoms.some(({ id, leak }) => {
      const [more, less] = [shown.get(a)!.get(id) ?? 0, shown.get(b)!.get(id) ?? 0].sort((x, y) => y - x) as [
        number,
        number,
      ];
      return more - less >= 0.25 && (more + leak) / (less + leak) >= 2;
    });
  const alike = FAULTS.flatMap(({ id }, i) =>
    FAULTS.slice(i + 1)
      .filter((other) => !apart(id, other.id))
      .map((other) => `${id} and ${other.id}`),
  );
  expect(alike).toEqual([]);
});

test("what is not fitted is not suspected", () => {
  const panOnly = networkFor([{ function: "Pan", mechanism: "pan-drive" }]);
  const suspected = new Set(panOnly.faults.map(({ id }) => id));
  const fitted = new Set<string>([
    "pan-drive",
    "yoke-loom",
    "light-engine",
    "optics",
    "cooling",
    "power-supply",
    "control",
    "chassis",
  ]);
  for (const { id, mechanism } of FAULTS) expect([id, suspected.has(id)]).toEqual([id, fitted.has(mechanism)]);
  expect(panOnly.symptoms.map(({ id }) => id.split("/")[0]).filter((place) => place! in MECHANISMS)).toContain(
    "pan-drive",
  );
  expect(panOnly.symptoms.some(({ id }) => id.startsWith("iris/"))).toBe(false);
});
