import { describe, expect, test } from "vitest";
import type { Offer } from "../../src/diagnosis/model/offer.ts";
import type { WatcherInput } from "../../src/run/machine/input.ts";
import type { Session } from "../../src/run/session/session.ts";
import { pageOf } from "../../src/ui/page.ts";
import { Driven, jobOf } from "../kit/driven.ts";
import { AGREE, drawnOf, saidTo, sightOf, Typist, textOf } from "./sights.ts";

/** The fixture was asked to identify itself and something else moved. */
const wrong = () => {
  const at = new Typist(new Driven(jobOf(["identify: fixture", "sweep: Pan"])).started());
  at.run.playOut();
  return at.press("0", "1", "enter");
};

describe("the wrong thing moved", () => {
  test("one function is stirred; only stop is live meanwhile", async () => {
    const at = wrong();
    expect(at.run.session.stage.kind).toBe("stirring");
    await expect(`${at.page()}\n`).toMatchFileSnapshot("./pages/stirring.txt");
    at.press("1", "enter", "space");
    expect(at.run.session.stage.kind).toBe("stirring");
  });

  test("then a digit says what moved, leafing with 0", async () => {
    const at = wrong();
    at.run.playOut();
    expect(at.run.session.stage.kind).toBe("what-moved");
    await expect(`${at.page()}\n`).toMatchFileSnapshot("./pages/what-moved.txt");
    at.press("0");
    expect(at.page()).not.toContain("nothing that can be seen");
    at.press("1");
    expect(at.run.events("identified")).toMatchObject([{ asked: "Zoom", answer: "Color1" }]);
  });

  test("nothing that can be seen is an answer; once more and leaving it are others", () => {
    const at = wrong();
    at.run.playOut();
    expect(at.press("1").run.events("identified")[0]).toMatchObject({ answer: "nothing" });
    const again = wrong();
    again.run.playOut();
    expect(again.press("a").run.session.stage.kind).toBe("stirring");
    const left = wrong();
    left.run.playOut();
    expect(left.press("d").run.session.stage).not.toMatchObject({ kind: "what-moved" });
  });

  test("what was found out is told, and the fixture is identified again when it was put right", async () => {
    const at = wrong();
    while (at.run.session.stage.kind === "stirring" || at.run.session.stage.kind === "what-moved") {
      if (at.run.session.stage.kind === "stirring") at.run.playOut();
      else at.press("1");
    }
    expect(at.run.session.stage.kind).toBe("setting-found");
    await expect(`${at.page()}\n`).toMatchFileSnapshot("./pages/setting-found.txt");
    expect(at.press(AGREE).run.session.stage).toMatchObject({ kind: "holding", point: "before-moving" });
    at.press(AGREE).run.playOut();
    expect(at.run.session.stage).toMatchObject({ kind: "moving", index: 0, attempt: 2 });
  });
});

describe("what next", () => {
  const OFFERS: readonly Offer[] = [
    {
      kind: "driven",
      under: "as usual",
      steps: [{ routine: "snap", functions: ["Tilt"], options: {} }],
      routine: "snap",
      function: "Tilt",
      seconds: 6,
      reason: "tells tilt belt slack from tilt encoder dirty: only tilt belt slack would show",
      expectedMinutes: 4,
      bits: 0.5,
    },
    {
      kind: "inspection",
      inspection: "transport-locks",
      cover: "outside",
      minutes: 0.2,
      reason: "would find: transport lock left on",
      expectedMinutes: 5,
      bits: 0.3,
    },
  ];
  const offered = (change = ""): Session => {
    const { session } = new Driven(jobOf(["sweep: Pan"])).started();
    return {
      ...session,
      stage: { kind: "what-next", offers: OFFERS, change, ground: { kind: "reported", unexplained: [] } },
    };
  };
  const says = (key: string): readonly WatcherInput[] => saidTo(drawnOf(offered()), key);

  test("what can be moved and what is to be inspected has a digit each", async () => {
    await expect(`${textOf(pageOf(sightOf(offered())))}\n`).toMatchFileSnapshot("./pages/what-next.txt");
    expect(says("1")).toMatchObject([{ kind: "choose", offer: 0 }]);
    expect(says("2")).toMatchObject([{ kind: "choose", offer: 1 }]);
    expect(says("3")).toEqual([{ kind: "here" }]);
  });

  test("after a test it says what that did to the first place", () => {
    const change = "The last test speaks for tilt belt slack, which stays first.";
    expect(textOf(pageOf(sightOf(offered(change))))).toContain(change);
  });

  test("enter is enough", () => {
    expect(says("enter")).toMatchObject([{ kind: "confirm" }]);
  });
});
