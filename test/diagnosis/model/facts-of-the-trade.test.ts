import { describe, expect, test } from "vitest";
import { knownFault } from "../../../src/diagnosis/model/knowledge/faults.ts";
import { marginals } from "../../../src/diagnosis/model/layers.ts";
import { networkFor } from "../../../src/diagnosis/model/network.ts";
import type { InspectionAnswer } from "../../../src/diagnosis/model/observation.ts";
import { type RankedFault, rank } from "../../../src/diagnosis/model/rank.ts";
import type { InspectionId } from "../../../src/domain/trade/inspections.ts";
import { runWith, SPOT } from "./spot.ts";

/** Every fact here is common practice, no source: what repairers tell each other. */
const looked = (answers: Partial<Record<InspectionId, "good" | "bad">>): readonly InspectionAnswer[] =>
  Object.entries(answers).map(([inspection, answer]) => ({ inspection: inspection as InspectionId, answer }));

const suspects = (seen: Parameters<typeof runWith>[0], answers: Parameters<typeof looked>[0] = {}) =>
  rank(SPOT, runWith(seen), looked(answers)).faults.filter((one): one is RankedFault => one.kind === "fault");
const names = (...args: Parameters<typeof suspects>) => suspects(...args).map(({ id }) => id);
const chance = (id: string, ...args: Parameters<typeof suspects>) =>
  suspects(...args).find((one) => one.id === id)!.probability;

const shownBy = (id: string) => marginals(networkFor(SPOT).faults.find((fault) => fault.id === id)!);

describe("iris", () => {
  test("an iris that scrapes: a bent leaf comes first, and the iris is replaced", () => {
    const [first] = suspects({ "sweep Iris": ["grinds"] });
    expect(first).toMatchObject({
      id: "iris-leaf-bent",
      remedy: "replace the iris",
      because: ["iris scrapes or grinds"],
    });
  });
});

describe("yoke, belts, encoders", () => {
  test("rub marks on an encoder wheel raise the belief in a bent yoke", () => {
    expect(names({}, { "tilt-encoder-marks": "bad" }).slice(0, 2)).toContain("yoke-bent");
    expect(chance("yoke-bent", {}, { "tilt-encoder-marks": "bad" })).toBeGreaterThan(20 * chance("yoke-bent", {}));
    expect(chance("yoke-bent", {}, { "tilt-encoder-marks": "bad", "pan-encoder-marks": "bad" })).toBeGreaterThan(0.5);
    expect(knownFault("tilt-encoder-disc").remedy).toContain("bent yoke");
  });

  test.each(["pan", "tilt"] as const)("a tension wheel out of round and frayed belt edges: the %s drive", (axis) => {
    const [first] = suspects({}, { [`${axis}-tension-wheel`]: "bad", [`${axis}-belt-edges`]: "bad" });
    expect(first).toMatchObject({ id: `${axis}-tension-wheel`, mechanism: `${axis}-drive` });
  });

  test("insulation worn at the yoke entry takes the fixture out of service whatever else is found", () => {
    const seen = { "sweep Iris": ["grinds", "not-round"], "snap Pan": ["swings-on"] } as const;
    const due = rank(SPOT, runWith(seen)).warnings.find(({ id }) => id === "insulation-worn");
    expect(due).toMatchObject({ state: "due", inspection: "yoke-wires" });
    const found = rank(SPOT, runWith(seen), looked({ "yoke-wires": "bad" })).warnings.find(
      ({ id }) => id === "insulation-worn",
    );
    expect(found).toMatchObject({ state: "found" });
    expect(found!.say).toMatch(/^OUT OF SERVICE/);
  });
});

describe("gobos", () => {
  test("a gobo that wobbles or turns soft and sharp: its spring is out of the seat", () => {
    expect(names({ "rotate Gobo1Pos": ["wobbles"] })[0]).toBe("gobo-spring");
    expect(names({ "rotate Gobo1Pos": ["soft-turning"] })[0]).toBe("gobo-spring");
  });

  test("gobos of one wheel that turn at different rates: the drive of that wheel", () => {
    expect(suspects({ "rotate Gobo1Pos": ["gobos-differ"] })[0]).toMatchObject({
      id: "gobo-gear",
      mechanism: "rotating-gobo-wheel",
    });
  });
});

describe("zoom and focus", () => {
  test.each([
    ["Zoom", "zoom"],
    ["Focus1", "focus"],
  ] as const)("%s in the wrong place and sticking on the way: a bent carriage or rod", (id, name) => {
    const seen = { [`sweep ${id}`]: ["wrong-place", "stalls", "stops-short"] };
    expect(names(seen)[0]).toBe(`${name}-carriage-bent`);
    expect(names(seen, { [`${name}-by-hand`]: "bad" })[0]).toBe(`${name}-carriage-bent`);
  });
});

describe("flags", () => {
  test("metal dust at the flag sensors: wrong shades without an error on the display", () => {
    expect(names({ "sweep ColorSub_C": ["wrong-shade"] })[0]).toBe("flag-filings");
    const quiet = chance("flag-filings", { "sweep ColorSub_C": ["wrong-shade"] });
    const complaining = chance("flag-filings", {
      "sweep ColorSub_C": ["wrong-shade"],
      "power-up fixture": ["error-shown"],
    });
    expect(complaining).toBeLessThan(quiet);
    expect([...shownBy("flag-filings").keys()]).not.toContain("fixture/error-shown");
  });
});

describe("plugs, power, heat, dirt", () => {
  test("loose connectors after transit: random drop-outs of several functions when shaken", () => {
    expect(names({ "shake Pan": ["several-at-once"] })[0]).toBe("board-plug-loose");
    expect(names({ "sweep Iris": ["no-move"], "sweep Zoom": ["jerks"], "in-and-out Frost1": ["no-move"] })[0]).toBe(
      "board-plug-loose",
    );
  });

  test("bulged capacitors, loose power links, loose screws in the base: shorts and random faults", () => {
    const seen = { "shake Pan": ["reset-itself"], "return fixture": ["went-dead"] } as const;
    const blamed = names(seen).slice(0, 5);
    expect(blamed).toEqual(expect.arrayContaining(["capacitor-bulged", "power-link-loose", "screws-loose-base"]));
    expect(names(seen, { capacitors: "bad" })[0]).toBe("capacitor-bulged");
    expect(names(seen, { "power-links": "bad" })[0]).toBe("power-link-loose");
    expect(names(seen, { "loose-screws": "bad" })[0]).toBe("screws-loose-base");
  });

  test("fans at full speed from the moment it is switched on: it believes that it is hot, and dust has had no time", () => {
    const loud = { "power-up fixture": ["fan-loud"] } as const;
    const believed = (fault: string, litMinutes: number) =>
      rank(SPOT, runWith(loud, { litMinutes })).faults.find(({ id }) => id === fault)!.probability;
    const sensorToDust = (litMinutes: number) =>
      believed("thermal-sensor", litMinutes) / believed("filter-clogged", litMinutes);
    expect(sensorToDust(12)).toBeLessThan(0.3);
    expect(sensorToDust(0)).toBeGreaterThan(1.5 * sensorToDust(12));
  });

  test("a fan that does not turn freely: heat", () => {
    expect(names({}, { "fans-by-finger": "bad" })[0]).toBe("fan-tired");
    expect([...shownBy("fan-tired").keys()]).toContain("fixture/cuts-out");
    expect([...shownBy("fan-dead").keys()]).toEqual(expect.arrayContaining(["fixture/cuts-out", "fixture/dim"]));
  });

  test("dirt on the optics dulls and tints every state, not one function", () => {
    const everywhere = { "hold Focus1": ["dim", "tinted", "veil"] } as const;
    const oneFunction = { "sweep ColorSub_C": ["patchy"] } as const;
    expect(suspects(everywhere)[0]).toMatchObject({ mechanism: "optics" });
    expect(suspects(oneFunction)[0]).toMatchObject({ mechanism: "colour-flags" });
  });
});
