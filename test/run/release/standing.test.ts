import { describe, expect, test } from "vitest";
import { FAULTS } from "../../../src/diagnosis/model/knowledge/faults.ts";
import { blocksPower } from "../../../src/domain/trade/due.ts";
import { CLOSING, holdPointWords, OPENING } from "../../../src/domain/trade/hold-points.ts";
import type { EventBody } from "../../../src/run/events/event.ts";
import { DANGER_LOOKS } from "../../../src/run/release/dangers.ts";
import { type History, historyOf, type Told } from "../../../src/run/release/history.ts";
import { standingOf } from "../../../src/run/release/standing.ts";
import {
  checkIn,
  closed,
  FITTED,
  foundFault,
  hold,
  INSIDE,
  judged,
  look,
  measured,
  mended,
  mendedCheckIn,
  opened,
  signed,
  started,
  told,
} from "./path.ts";

const state = (history: History) => standingOf(history, FITTED).state;
const reasons = (history: History) => standingOf(history, FITTED).reasons.map(({ words }) => words);
const inserted = (history: readonly Told[], kind: EventBody["kind"], ...bodies: readonly EventBody[]) => {
  const at = history.findIndex(({ body }) => body.kind === kind);
  return [...history.slice(0, at), ...bodies.map((body) => told(body)), ...history.slice(at)];
};
const without = (history: readonly Told[], drop: (body: EventBody) => boolean) =>
  history.filter(({ body }) => !drop(body));
const added = (history: readonly Told[], ...bodies: readonly EventBody[]) => [
  ...history,
  ...bodies.map((body) => told(body)),
];

describe("the way of a fixture from truck to shelf", () => {
  test("everything in order waits for a signature, and the signature makes it ready", () => {
    expect(standingOf(checkIn(), FITTED)).toEqual({ state: "to-sign", reasons: [], signed: undefined });
    expect(standingOf(added(checkIn(), signed), FITTED)).toEqual({ state: "ready", reasons: [], signed: "KM" });
  });

  test("failed, mended, replayed and signed is ready too", () => {
    expect(state(mendedCheckIn())).toBe("to-sign");
    expect(state(added(mendedCheckIn(), signed))).toBe("ready");
  });

  test.each<[string, History, string]>([
    ["a run is going", [told(opened())], "in-work"],
    ["a lock is still on", [told(opened()), told(look("transport-locks", "bad"))], "blocked"],
    ["a look from outside was unsure", [told(opened()), told(look("plug-and-cord", "unsure"))], "blocked"],
    ["the covers are off", [told(opened()), ...OPENING.map((point) => told(hold(point)))], "open"],
    ["mended and not replayed", mendedCheckIn().filter(({ run }) => run === "run-1"), "to-replay"],
    [
      "something failed and nobody has mended it",
      inserted(checkIn(), "run-closed", judged("iris", "fail")),
      "quarantine",
    ],
    [
      "put by in a person's own words",
      added(checkIn(), { kind: "quarantined", reasons: [], initials: "KM", note: "waits for a part" }),
      "quarantine",
    ],
  ])("%s: %s", (_, history, expected) => {
    expect(state(history)).toBe(expected);
  });

  test("whatever is written after the signature opens the matter again", () => {
    const ready = added(checkIn(), signed);
    expect(state([...ready, told(opened(), "run-9")])).toBe("in-work");
    expect(state(added(ready, foundFault("pan-belt-slack")))).toBe("quarantine");
  });

  test("a second signature changes nothing", () => {
    expect(standingOf(added(checkIn(), signed, { ...signed, initials: "ZZ" }), FITTED).signed).toBe("KM");
  });

  test("a signature that came too early does not count later", () => {
    expect(
      state([
        ...added(
          mendedCheckIn().filter(({ run }) => run === "run-1"),
          signed,
        ),
        ...mendedCheckIn().filter(({ run }) => run === "run-2"),
      ]),
    ).toBe("to-sign");
  });
});

describe("what stands against a signature, in words", () => {
  const safety = (body: EventBody) => body.kind === "reading-taken" && body.reading === "electrical-safety";
  test.each<[string, History, readonly string[]]>([
    [
      "no serial number",
      checkIn().map((one) => (one.body.kind === "run-opened" ? told(opened(undefined, { serial: "unknown" })) : one)),
      ["it has no serial number: nobody could tell it from others"],
    ],
    [
      "a run that was not finished",
      without(checkIn(), ({ kind }) => kind === "run-closed"),
      ["run run-1 is not finished"],
    ],
    [
      "a failed step",
      inserted(checkIn(), "run-closed", judged("iris", "fail")),
      ["failed, not passed since: iris: full sweep"],
    ],
    [
      "an unsure one",
      inserted(checkIn(), "run-closed", judged("iris", "unsure")),
      ["failed, not passed since: iris: full sweep"],
    ],
    [
      "passed only more slowly",
      inserted(checkIn(), "run-closed", judged("iris", "fail"), started("iris", 0.5), judged("iris", "pass")),
      ["failed, not passed since: iris: full sweep"],
    ],
    [
      "a step that nobody watched",
      without(checkIn(), (body) => body.kind === "step-judged" && body.step === "soak"),
      ["not tested: pan: keep running"],
    ],
    [
      "a fault found and not mended",
      added(checkIn(), foundFault("iris-leaf-bent")),
      ["found, not mended: iris leaf bent"],
    ],
    [
      "a look left out",
      without(checkIn(), (body) => body.kind === "inspected" && body.inspection === "iris-by-hand"),
      ["iris, opened and closed by hand: not looked at"],
    ],
    [
      "a look that was bad",
      inserted(checkIn(), "run-closed", look("front-lens", "bad")),
      ["front lens by torch: dull, filmed, chipped or cracked"],
    ],
    [
      "a look that nobody was sure of",
      inserted(checkIn(), "run-closed", look("front-lens", "unsure")),
      ["front lens by torch: not sure"],
    ],
    ["no electrical safety test", without(checkIn(), safety), ["no signed reading: electrical safety test"]],
    [
      "a safety test nobody put initials to",
      checkIn().map((one) => (safety(one.body) ? told(measured("electrical-safety", "within", " ")) : one)),
      ["no signed reading: electrical safety test"],
    ],
    [
      "a safety test from before the covers were off",
      inserted(without(checkIn(), safety), "inspected", measured("electrical-safety")),
      ["no signed reading after the covers were off last: electrical safety test"],
    ],
    [
      "a reading outside the limit",
      added(checkIn(), measured("electrical-safety", "outside")),
      ["outside the limit: electrical safety test"],
    ],
  ])("%s", (_, history, expected) => {
    expect(reasons(history)).toEqual(expected);
    expect(state(added(history, signed))).not.toBe("ready");
  });

  test("a hold point passed over before opening, and one before power returns", () => {
    const drop = (point: string) =>
      without(checkIn(), (body) => body.kind === "hold-confirmed" && body.point === point);
    expect(reasons(drop("stored-charge"))).toEqual(
      ["base", "yoke", "head"].map(
        (cover) => `not confirmed before looking behind the ${cover} covers: ${holdPointWords("stored-charge")}`,
      ),
    );
    expect(reasons(drop("nothing-loose"))).toEqual([
      `covers were off, not confirmed since: ${holdPointWords("nothing-loose")}`,
    ]);
  });

  test("a hold point lapses when power returns in between", () => {
    const history = checkIn();
    const at = history.findIndex(({ body }) => body.kind === "inspected" && body.inspection === INSIDE[1]);
    const powered = [...history.slice(0, at), told(hold("mains-on")), ...history.slice(at)];
    expect(reasons(powered)).toContain(
      `not confirmed before looking behind the base covers: ${holdPointWords("isolated")}`,
    );
  });

  test("after a repair: what it disturbed, until it has passed; the earth too, where the loom was touched", () => {
    const first = mendedCheckIn().filter(({ run }) => run === "run-1");
    expect(reasons(first)).toEqual([
      "failed, not passed since: pan: full sweep",
      "disturbed by a repair, not passed since: pan: full sweep",
      "disturbed by a repair, not passed since: pan: keep running",
    ]);
    const unmeasured = without(
      mendedCheckIn(),
      (body) => body.kind === "reading-taken" && body.reading === "earth-continuity",
    );
    expect(reasons(unmeasured)).toEqual(["no signed reading: earth continuity from base to yoke to head"]);
  });
});

describe("a danger to people", () => {
  const cure = {
    "yoke-wires": "insulation-worn",
    "yoke-entry": "insulation-worn",
    "earth-continuity": "earth-broken",
    capacitors: "capacitor-bulged",
    "yoke-capacitors": "capacitor-bulged",
    "head-capacitors": "capacitor-bulged",
  } as const;
  const STEP_EVENTS: readonly EventBody["kind"][] = ["run-opened", "step-started", "step-judged", "run-closed"];
  /** Done while the covers are off; then everything is played again. */
  const whileOpen = (...bodies: readonly EventBody[]): History => {
    const history = checkIn();
    const at = history.findIndex(({ body }) => body.kind === "hold-confirmed" && body.point === CLOSING[0]);
    const worked = [...history.slice(0, at), ...bodies.map((body) => told(body)), ...history.slice(at)];
    return [...worked, ...checkIn("run-2").filter(({ body }) => STEP_EVENTS.includes(body.kind))];
  };
  const earth = measured("earth-continuity");

  test.each(DANGER_LOOKS)("%s: a good look alone never ends it, nor does another repair", (id) => {
    const rules = (history: History) => standingOf(history, FITTED).reasons.map(({ rule }) => rule);
    expect(rules(whileOpen(look(id, "bad"), look(id)))).toEqual(["danger"]);
    expect(rules(whileOpen(look(id, "bad"), mended("iris-leaf-bent"), look(id), earth))).toEqual(["danger"]);
  });

  test.each(DANGER_LOOKS)("%s: its repair and then a good look do, in this order", (id) => {
    expect(reasons(whileOpen(look(id, "bad"), mended(cure[id]), look(id), earth))).toEqual([]);
    if (id !== "earth-continuity")
      expect(state(whileOpen(look(id, "bad"), look(id), mended(cure[id]), earth))).toBe("quarantine");
  });

  test("confirmed without a bad look, it needs its repair and a good look all the same", () => {
    const confirmed = foundFault("capacitor-bulged");
    expect(reasons(whileOpen(confirmed, mended("capacitor-bulged"), earth))).toEqual(["capacitor bulged or leaking"]);
    expect(reasons(whileOpen(confirmed, mended("capacitor-bulged"), look("capacitors"), earth))).toEqual([]);
  });

  test("every fault that takes a fixture out of service is told by one of these looks", () => {
    for (const fault of FAULTS.filter(({ danger }) => danger === "out of service"))
      expect(
        DANGER_LOOKS.some((id) => id in fault.found),
        fault.id,
      ).toBe(true);
  });

  test("a look that blocks power and is a danger does both", () => {
    expect(DANGER_LOOKS.filter(blocksPower)).toEqual(["yoke-entry"]);
  });
});

describe("whose history it is", () => {
  test("a simulated run says nothing of a real fixture", () => {
    const simulated = checkIn("sim-1").map((one) =>
      one.body.kind === "run-opened" ? { ...one, body: opened(undefined, { simulated: true }) } : one,
    );
    const real = [told(opened(), "real-1"), told(judged("pan", "fail"), "real-1"), told(closed, "real-1")];
    expect(historyOf([...simulated, ...real], "A-17")).toEqual(real);
    expect(historyOf(simulated, "A-17")).toEqual(simulated);
    expect(historyOf([...simulated, ...real], "B-2")).toEqual([]);
  });
});
