import { describe, expect, test } from "vitest";
import { CONCLUSIVE } from "../../../src/diagnosis/model/certain.ts";
import { FIXED_TEMPER, tempered } from "../../../src/diagnosis/model/claims.ts";
import { evidenceFrom } from "../../../src/diagnosis/model/evidence.ts";
import { openingNow, suspectsOf } from "../../../src/diagnosis/model/looks.ts";
import { type Advice, whatNext } from "../../../src/diagnosis/model/next.ts";
import type { InspectionAnswer, Observation } from "../../../src/diagnosis/model/observation.ts";
import type { Offer } from "../../../src/diagnosis/model/offer.ts";
import { drivableOn, type Probe, testedIn } from "../../../src/diagnosis/model/probe.ts";
import { rank } from "../../../src/diagnosis/model/rank.ts";
import { NOTHING_LEARNED } from "../../../src/diagnosis/model/shop.ts";
import { showingsAfter } from "../../../src/diagnosis/model/showing.ts";
import { COVERS, type CoverId } from "../../../src/domain/trade/hold-points.ts";
import { type InspectionId, inspection } from "../../../src/domain/trade/inspections.ts";
import type { SymptomId } from "../../../src/domain/trade/symptoms.ts";
import { shippedBench, shippedProfile } from "../../kit/shipped.ts";
import { runWith, SPOT } from "./spot.ts";

const offersOf = (advice: Advice): readonly Offer[] => (advice.kind === "offers" ? advice.offers : []);
const name = (offer: Offer) =>
  offer.kind === "driven"
    ? `${offer.under === "as usual" ? "" : `${offer.under} `}${offer.routine} ${offer.function ?? "fixture"}`
    : offer.inspection;
const spot = shippedProfile("spot-16bit");
const noisyIris = runWith({ "sweep Iris": ["grinds"] });

describe("when there is nothing more to do", () => {
  test("in a clean run nothing is found", () => {
    expect(whatNext(SPOT, runWith({}))).toMatchObject({ kind: "nothing-found" });
  });

  const slackPan = { "snap Pan": ["swings-on"], "backlash Pan": ["side-differs"] } as const;
  const tension = [{ inspection: "pan-belt-tension", answer: "bad" }] as const;

  test("a look that tells plainly settles it", () => {
    expect(whatNext(SPOT, runWith(slackPan), tension)).toEqual({ kind: "settled", on: "pan-belt-slack", also: [] });
  });

  test("what is called conclusive is claimed with 95 % after the odds were tempered, not by the model's own odds", () => {
    const sure = (answers: readonly InspectionAnswer[]) => {
      const advice = whatNext(SPOT, runWith(slackPan), answers);
      const first = rank(SPOT, runWith(slackPan), answers).faults[0]!;
      return { settled: advice.kind === "settled", claim: tempered(first.probability, FIXED_TEMPER.power) };
    };
    expect(sure(tension)).toMatchObject({ settled: true });
    expect(sure(tension).claim).toBeGreaterThanOrEqual(CONCLUSIVE);
    expect(sure([])).toMatchObject({ settled: false });
    expect(sure([]).claim).toBeLessThan(CONCLUSIVE);
  });

  test("a word that the certain fault does not explain leaves it open", () => {
    const odd = runWith({ ...slackPan, "sweep Zoom": ["whines"] });
    const certain = rank(SPOT, odd, tension).faults[0]!;
    expect(tempered(certain.probability, FIXED_TEMPER.power)).toBeGreaterThanOrEqual(CONCLUSIVE);
    expect(whatNext(SPOT, odd, tension).kind).not.toBe("settled");
  });

  test("what one certain fault does not explain goes on being looked for", () => {
    const two = runWith({ ...slackPan, "sweep Iris": ["grinds"] });
    const offers = offersOf(whatNext(SPOT, two, tension));
    expect(offers.map(name).join()).toMatch(/iris|Iris/);
    expect(offers.map(({ reason }) => reason).join()).not.toContain("pan belt");
  });

  test("one weak symptom, all that is offered done and found good: nothing is worth asking any more", () => {
    let run = runWith({ "sweep Zoom": ["whines"] });
    let answers: readonly InspectionAnswer[] = [];
    let advice = whatNext(SPOT, run, answers);
    for (let i = 0; i < 30 && advice.kind === "offers"; i++) {
      const [offer] = advice.offers;
      if (offer?.kind === "inspection") answers = [...answers, { inspection: offer.inspection, answer: "good" }];
      else run = [...run, passed(offer!)];
      advice = whatNext(SPOT, run, answers);
    }
    expect(advice.kind).not.toBe("offers");
  });
});

const passed = ({
  routine,
  function: id,
}: Pick<Extract<Offer, { kind: "driven" }>, "routine" | "function">): Observation => ({
  routine,
  functions: id === undefined ? SPOT : SPOT.filter((one) => one.function === id),
  result: "pass",
  symptoms: [],
  watched: "attended",
  litMinutes: 5,
  attitude: "standing",
});

describe("the best three", () => {
  test.each([
    ["iris", noisyIris],
    ["pan", runWith({ "sweep Pan": ["jerks"] })],
    ["whole fixture", runWith({ "shake Pan": ["reset-itself"] })],
    ["only one step watched", noisyIris.filter(({ result }) => result === "fail")],
  ])("fewest expected minutes first, each once, each with a reason, an inspection among them: %s", (_, run) => {
    const offers = offersOf(whatNext(SPOT, run));
    expect(offers.length).toBeGreaterThan(0);
    expect(offers.length).toBeLessThanOrEqual(3);
    expect(offers.some(({ kind }) => kind === "inspection")).toBe(true);
    expect(new Set(offers.map(name)).size).toBe(offers.length);
    const minutes = offers.map(({ expectedMinutes }) => expectedMinutes);
    expect(minutes).toEqual([...minutes].sort((a, b) => a - b));
    for (const { reason, bits } of offers) {
      expect(reason).toMatch(/^(would find: |tells .+ from .+: only .+ would show|confirms .+ if it shows)/);
      expect(bits).toBeGreaterThan(0);
    }
  });

  test.each([
    ["iris", noisyIris, "sweep Iris"],
    ["pan", runWith({ "sweep Pan": ["jerks"], "snap Pan": ["knocks"] }), "snap Pan"],
  ])("a movement that has shown something is not offered again: %s", (_, run, shown) => {
    expect(offersOf(whatNext(SPOT, run)).map(name)).not.toContain(shown);
  });

  test("the answer moves the ranking: what had to show it under the first answer and stayed quiet speaks for the second", () => {
    const run = runWith({ "sweep Pan": ["jerks"] }).filter(
      ({ routine, functions }) => routine === "sweep" && functions[0]?.function === "Pan",
    );
    const offer = offersOf(whatNext(SPOT, run)).find(({ kind }) => kind === "driven");
    const order = (observations: readonly Observation[]) =>
      rank(SPOT, observations)
        .faults.slice(0, 8)
        .map(({ id, probability }) => `${id} ${probability.toFixed(3)}`);
    expect(offer?.kind === "driven" && order([...run, passed(offer)])).not.toEqual(order(run));
  });
});

describe("planned again after every answer", () => {
  test("what was answered is not asked again", () => {
    const before = offersOf(whatNext(SPOT, noisyIris)).map(name);
    const look = offersOf(whatNext(SPOT, noisyIris)).find(({ kind }) => kind === "inspection")!;
    const answers = [{ inspection: name(look) as "iris-leaves", answer: "good" as const }];
    expect(before).toContain(name(look));
    expect(offersOf(whatNext(SPOT, noisyIris, answers)).map(name)).not.toContain(name(look));
  });

  test("behind a cover that is off already a look costs its own minutes only", () => {
    const shut = offersOf(whatNext(SPOT, noisyIris)).find((one) => one.kind === "inspection");
    const open = offersOf(whatNext(SPOT, noisyIris, [], ["head"])).find((one) => one.kind === "inspection");
    expect(shut!.minutes).toBe(COVERS[shut!.cover].minutes + inspection(shut!.inspection).minutes);
    expect(open!.minutes).toBe(inspection(open!.inspection).minutes);
    expect(open!.cover).toBe("head");
  });
});

const jerkyPan = runWith({ "sweep Pan": ["jerks"] }).filter(
  ({ functions, routine }) => functions[0]?.function === "Pan" && routine === "sweep",
);

test("a test is offered where it parts faults behind different covers", () => {
  const offers = offersOf(whatNext(SPOT, jerkyPan));
  expect(offers[0]).toMatchObject({ kind: "driven" });
});

test("a test comes only where it saves minutes over looking at once: never dearer than the best look", () => {
  for (const run of [noisyIris, runWith({ "sweep Pan": ["jerks"] }), runWith({ "shake Pan": ["reset-itself"] })]) {
    const offers = offersOf(whatNext(SPOT, run));
    const look = offers.find(({ kind }) => kind === "inspection")!;
    for (const test of offers.filter(({ kind }) => kind === "driven"))
      expect(test.expectedMinutes).toBeLessThan(look.expectedMinutes);
  }
});

test("with the covers off a test costs the covers, the start and the opening anew", () => {
  const asked = (open: readonly CoverId[]) =>
    offersOf(whatNext(SPOT, jerkyPan, [], open)).filter(({ kind }) => kind === "driven");
  const [shut] = asked([]);
  expect(shut).toMatchObject({ kind: "driven" });
  for (const offer of asked(["base", "yoke"])) expect(offer.expectedMinutes).toBeGreaterThan(shut!.expectedMinutes + 1);
  expect(offersOf(whatNext(SPOT, jerkyPan, [], ["base", "yoke"]))[0]).toMatchObject({ kind: "inspection" });
});

test("a symptom that nobody is sure of is tested again before a cover is opened for it", () => {
  const doubted = runWith({ "sweep Iris": ["rattles"] }).map((one) =>
    one.result === "fail" ? { ...one, result: "unsure" as const } : one,
  );
  expect(offersOf(whatNext(SPOT, doubted))[0]).toMatchObject({ kind: "driven", function: "Iris" });
});

describe("what a test may still show", () => {
  const sweepIris: Probe = {
    routine: "sweep",
    function: "Iris",
    under: "as usual",
    usually: [],
    steps: [
      {
        routine: "sweep",
        fitted: SPOT.filter(({ function: id }) => id === "Iris"),
        functions: ["Iris"],
        options: {},
        seconds: 10,
        circumstances: undefined,
      },
    ],
    seconds: 10,
  };
  const chance = (run: readonly Observation[]) => {
    const showings =
      showingsAfter(SPOT, run, evidenceFrom(SPOT, run, []), NOTHING_LEARNED, new Set(["iris-leaf-bent"]))(sweepIris) ??
      [];
    return Math.max(0, ...showings.map(({ by }) => by.get("iris-leaf-bent") ?? 0));
  };
  const pass = runWith({}).filter(({ routine, functions }) => routine === "sweep" && functions[0]?.function === "Iris");

  test("what stayed away in many passes will hardly come in the next", () => {
    const passes = (count: number) => chance(Array.from({ length: count }, () => pass).flat());
    expect(passes(1)).toBeLessThan(passes(0));
    expect(passes(4)).toBeLessThan(passes(1) / 3);
  });

  const axes = SPOT.filter(({ function: id }) => id === "Pan" || id === "Tilt");
  const atFullSpeed = { tilt: [-90, 90], leanings: "one", beam: "shut", speed: 1 } as const;
  const fastSweep: Probe = {
    ...sweepIris,
    under: "fast",
    function: undefined,
    steps: [{ ...sweepIris.steps[0]!, fitted: axes, functions: ["Pan", "Tilt"], circumstances: atFullSpeed }],
  };
  const sweptTogether = (speed: number): Observation => ({
    ...runWith({ "sweep Tilt": ["trembles"] }).find(({ result }) => result === "fail")!,
    functions: axes,
    circumstances: { ...atFullSpeed, speed },
  });
  test.each([
    [1, undefined, "it trembled at full speed: at full speed once more it will tremble again"],
    [0.5, "asked", "it trembled at half speed: what it does at full speed nobody has seen"],
  ] as const)("speed %s: the fast test is %s, because %s", (speed, answer, _because) => {
    const seen = [sweptTogether(speed)];
    const showings = showingsAfter(SPOT, seen, evidenceFrom(SPOT, seen, []), NOTHING_LEARNED, new Set(["motor-open"]));
    expect(showings(fastSweep) === undefined ? undefined : "asked").toBe(answer);
  });

  test("what has shown once is not asked again", () => {
    const fail = runWith({ "sweep Iris": ["grinds"] }).filter(({ result }) => result === "fail");
    expect(
      showingsAfter(SPOT, fail, evidenceFrom(SPOT, fail, []), NOTHING_LEARNED, new Set(["iris-leaf-bent"]))(sweepIris),
    ).toBeUndefined();
  });
});

describe("a fault is looked for where it is found soonest", () => {
  const loose = runWith({ "shake Pan": ["several-at-once"] });
  const lookedFor = (open: readonly CoverId[], answers: readonly InspectionAnswer[] = []) =>
    suspectsOf({ "board-plug-loose": 0.5 }, evidenceFrom(SPOT, loose, []), answers, openingNow(new Set(open)));

  test.each<{ open: readonly CoverId[]; look: InspectionId; because: string }>([
    { open: [], look: "head-plugs", because: "the head opens sooner, and more of the plugs are there" },
    { open: ["head"], look: "head-plugs", because: "it is open already" },
    {
      open: ["base"],
      look: "base-plugs",
      because: "the base is open, and what is behind it takes its own minutes only",
    },
  ])("$open open: $look, because $because", ({ open, look }) => {
    expect(lookedFor(open)).toMatchObject([{ look }]);
  });

  test("what was answered is not asked again: then the other", () => {
    expect(lookedFor([], [{ inspection: "head-plugs", answer: "good" }])).toMatchObject([{ look: "base-plugs" }]);
  });
});

describe("what a technician would look at first is first", () => {
  interface Row {
    readonly seen: Parameters<typeof runWith>[0];
    readonly first: InspectionId;
    readonly because: string;
  }
  test.each<Row>([
    {
      seen: { "identify Pan": ["nothing-moves"] },
      first: "menu-address",
      because: "nothing was reported of a part, so the panel is a place like any other: seconds, and nothing to open",
    },
    {
      seen: { "sweep Dimmer": ["dim"] },
      first: "front-lens",
      because: "dirt on the lenses shows on the front lens too, from outside, before the head is opened for it",
    },
    {
      seen: { "power-up fixture": ["no-strike"] },
      first: "menu-hours",
      because: "the hours of the lamp are read in seconds, before anything is opened",
    },
    {
      seen: { "sweep Pan": ["stops-short"] },
      first: "menu-settings",
      because:
        "a range that somebody set shorter is read in the menu in a minute, before a cover is opened for an end stop",
    },
    {
      seen: { "sweep Tilt": ["no-move"] },
      first: "transport-locks",
      because: "nothing is driven on against a lock that may be on",
    },
  ])("$seen: $first, because $because", ({ seen, first }) => {
    const [offer] = offersOf(whatNext(SPOT, runWith(seen), [], [], undefined, drivableOn(spot, shippedBench())));
    expect(offer).toMatchObject({ kind: "inspection", inspection: first });
  });
});

test("with the mains off nothing is offered at the panel: what can be looked at now has the place", () => {
  const asked = (open: readonly CoverId[]) =>
    offersOf(whatNext(SPOT, runWith({ "sweep Dimmer": ["dim"] }), [], open)).flatMap((offer) =>
      offer.kind === "inspection" ? [offer.cover] : [],
    );
  expect(asked([])).toContain("panel");
  expect(asked(["head"])).not.toContain("panel");
  expect(asked(["head"])).toContain("head");
  expect(asked(["outside"])).not.toContain("panel");
});

test("a likely answer that is looked at in seconds comes before a test, which is then mostly spared", () => {
  const seen = runWith({ "shake Pan": ["several-at-once"] });
  const offers = offersOf(whatNext(SPOT, seen, [], [], undefined, drivableOn(spot, shippedBench())));
  const at = (wanted: (offer: Offer) => boolean) => offers.findIndex(wanted);
  const address = at((offer) => offer.kind === "inspection" && offer.inspection === "menu-address");
  expect(at(({ kind }) => kind === "driven")).toBeGreaterThan(-1);
  expect(address).toBeGreaterThan(-1);
  expect(address).toBeLessThan(at(({ kind }) => kind === "driven"));
});

test("the menu takes no place from the best inspection of what the part itself may have", () => {
  const seen = runWith({ "sweep ColorSub_C": ["stalls"] });
  const offers = offersOf(whatNext(SPOT, seen, [], [], undefined, drivableOn(spot, shippedBench())));
  expect(offers.map(name)).toContain("flags-by-hand");
});

test("what was reported of a part is not looked for by moving other parts, where the menu takes less", () => {
  const driven = (["Pan jerks", "Focus1 jerks", "Zoom slow", "Iris grinds", "ColorSub_C stalls"] as const).flatMap(
    (said) => {
      const [part = "", symptom = ""] = said.split(" ");
      const seen = runWith({ [`sweep ${part}`]: [symptom as SymptomId] });
      return offersOf(whatNext(SPOT, seen, [], [], undefined, drivableOn(spot, shippedBench()))).flatMap((offer) =>
        offer.kind === "driven" ? [{ part, moved: testedIn(offer) }] : [],
      );
    },
  );
  expect(driven.length).toBeGreaterThan(0);
  for (const { part, moved } of driven) expect(moved).toContain(part);
});

test("of tests under one circumstance that tell the same, or move the same parts, only the best is offered", () => {
  const states = [
    { "sweep ColorSub_C": ["stalls"] },
    { "in-and-out Prism1": ["half-in"] },
    { "power-up fixture": ["went-dead"] },
  ] as const;
  for (const seen of states) {
    const advice = whatNext(SPOT, runWith(seen), [], [], undefined, drivableOn(spot, shippedBench()));
    const leaned = offersOf(advice).filter((offer) => offer.kind === "driven" && offer.under === "tipped");
    expect(new Set(leaned.map(({ reason }) => reason)).size).toBe(leaned.length);
    const moved = leaned.flatMap((offer) => (offer.kind === "driven" ? testedIn(offer) : []));
    expect(new Set(moved).size).toBe(moved.length);
  }
});

test("unplugged, a test costs the start anew: it is offered at the price of plugging it in", () => {
  const minutes = (open: readonly CoverId[]) =>
    offersOf(whatNext(SPOT, jerkyPan, [], open)).flatMap((offer) =>
      offer.kind === "driven" ? [offer.expectedMinutes] : [],
    );
  const powered = Math.min(...minutes([]));
  for (const one of minutes(["outside"])) expect(one).toBeGreaterThan(powered + 1);
  expect(minutes(["panel"])).toEqual(minutes([]));
});

test("a module behind a head that is open already costs only the rest", () => {
  expect(openingNow(new Set())("module")).toBe(10);
  expect(openingNow(new Set(["head"]))("module")).toBe(7);
  expect(openingNow(new Set(["module"]))("module")).toBe(0);
});
