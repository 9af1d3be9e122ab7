import { describe, expect, test } from "vitest";
import { fittedOf } from "../../../src/data/profile/profile.ts";
import { CLOSING, OPENING } from "../../../src/domain/trade/hold-points.ts";
import {
  alwaysDue,
  INSPECTION_IDS,
  type InspectionId,
  inspection,
  isSafetyInspection,
  SAFETY_INSPECTIONS,
} from "../../../src/domain/trade/inspections.ts";
import { MECHANISM_IDS } from "../../../src/domain/trade/mechanisms.ts";
import { releaseStatusOf, verdictInWords, verdictOf } from "../../../src/run/release/release-status.ts";
import { historyNow } from "../../../src/run/session/by-hand/holds.ts";
import type { HandTask } from "../../../src/run/session/by-hand/task.ts";
import { questionOf } from "../../../src/run/session/session.ts";
import { Driven, jobOf } from "../../kit/driven.ts";

const JOB = [
  "inspect: outside",
  "power-up: fixture",
  "sweep: Iris",
  "hold-point: opening",
  "inspect: proposed",
  "{ clean: front-lens, id: clean }",
  "hold-point: closing",
  "reading: electrical-safety",
  "{ power-up: fixture, id: last-power-up }",
];

const taskOf = (run: Driven): HandTask | undefined => {
  const { stage } = run.session;
  return stage.kind === "by-hand" ? stage.task : undefined;
};

/** What a careful person answers; looks named here are bad the first time. */
const answersTo = (task: HandTask, bad: Set<InspectionId>): readonly Parameters<Driven["send"]>[0][] => {
  const good = { kind: "judge", result: "pass" } as const;
  switch (task.kind) {
    case "look":
      return [{ kind: "judge", result: bad.delete(task.inspection) ? "fail" : "pass" }];
    case "looks": {
      const offer = task.inspections.findIndex((id) => bad.has(id));
      return [offer < 0 ? good : { kind: "choose", offer }];
    }
    case "dirt":
      return [{ kind: "choose", offer: 1 }];
    case "clean":
    case "cleans":
      return [good];
    case "reading":
      return [{ kind: "filled", what: "initials", text: "EE" }, { kind: "filled", what: "value", text: "0.08" }, good];
    default:
      return [{ kind: "confirm" }];
  }
};

/** Answers by hand until something else is asked. */
const byHand = (run: Driven, until: (task: HandTask) => boolean, bad: readonly InspectionId[] = []): Driven => {
  const left = new Set(bad);
  for (let n = 0; n < 200; n++) {
    const task = taskOf(run);
    if (!task || until(task)) return run;
    for (const answer of answersTo(task, left)) run.send(answer);
  }
  throw new Error("the work by hand never ends");
};
const never = () => false;
const isHold = (point: string) => (task: HandTask) => task.kind === "hold-point" && task.point === point;

/** Swept; the iris as told. Stops where the fixture is to be isolated. */
const swept = (iris: "pass" | "fail" = "pass", more: readonly string[] = []): Driven => {
  const run = new Driven(jobOf([...JOB, ...more])).begin();
  byHand(run, never).send({ kind: "confirm" }).send({ kind: "confirm" }).playOut().send({ kind: "confirm" });
  while (run.session.stage.kind !== "by-hand") {
    if (run.session.stage.kind === "asking")
      run
        .send({ kind: "symptom", symptom: { symptom: "grinds", function: "Iris" } })
        .send({ kind: "judge", result: iris });
    else if (run.session.stage.kind === "what-next" || run.session.stage.kind === "placed")
      run.send({ kind: "confirm" });
    else run.playOut();
  }
  return run;
};

describe("cold, before power", () => {
  test("it begins with the plug out and what is due from outside, and nothing has moved", () => {
    const run = new Driven(jobOf(JOB)).begin();
    expect(taskOf(run)).toMatchObject({ kind: "hold-point", point: "unplugged" });
    run.send({ kind: "confirm" });
    for (const inspection of ["plug-and-cord", "water", "yoke-entry", "brackets"]) {
      expect(taskOf(run)).toMatchObject({ kind: "look", inspection, why: "due" });
      run.send({ kind: "judge", result: "pass" });
    }
    expect(taskOf(run)).toMatchObject({ kind: "looks", cover: "outside", more: 0 });
    byHand(run, never);
    expect(run.events("inspected").map(({ inspection: id }) => inspection(id).cover)).toEqual(Array(7).fill("outside"));
    expect(run.session.stage).toMatchObject({ kind: "holding", point: "mains-on" });
    expect(run.effects.some(({ kind }) => kind === "play")).toBe(false);
  });

  test("a bad look blocks power until it is looked at again, and then it goes on", () => {
    const run = byHand(new Driven(jobOf(JOB)).begin(), ({ kind }) => kind === "blocked", ["transport-locks"]);
    expect(taskOf(run)).toMatchObject({ kind: "blocked", dangers: [{ source: "transport-locks" }] });
    run.send({ kind: "confirm" });
    expect(taskOf(run)).toMatchObject({ kind: "look", inspection: "transport-locks", why: "again" });
    run.send({ kind: "judge", result: "unsure" });
    expect(taskOf(run)).toMatchObject({ kind: "blocked" });
    run.send({ kind: "confirm" }).send({ kind: "judge", result: "pass" });
    expect(run.session.stage).toMatchObject({ kind: "holding", point: "mains-on" });
  });

  test("locked out, it ends without power", () => {
    const run = byHand(new Driven(jobOf(JOB)).begin(), ({ kind }) => kind === "blocked", ["water"]);
    run.send({ kind: "decline" });
    expect(run.session.stage).toEqual({ kind: "finished", how: "stopped" });
    expect(run.effects.some(({ kind }) => kind === "play")).toBe(false);
  });

  test("what blocked it yesterday blocks it today", () => {
    const job = jobOf(["power-up: fixture"]);
    const past = [
      { run: "yesterday", person: "KM", body: { kind: "inspected", inspection: "water", answer: "bad", note: "" } },
    ] as const;
    expect(taskOf(new Driven({ ...job, past }).begin())).toMatchObject({
      kind: "blocked",
      dangers: [{ source: "water" }],
    });
  });
});

describe("hold points", () => {
  test("one after the other, kept with who and for which step, the line at rest and the mains off", () => {
    const run = swept();
    expect(taskOf(run)).toMatchObject({ kind: "hold-point", point: "isolated" });
    expect(run.effects.at(-1)).toEqual({ kind: "go-dark" });
    byHand(run, ({ kind }) => kind === "look");
    expect(run.events("hold-confirmed").slice(-4)).toEqual(
      OPENING.map((point) => ({ kind: "hold-confirmed", point, step: "hold-point-opening" })),
    );
    expect(run.effects.filter(({ kind }) => kind === "mains-off").length).toBe(2);
    expect(run.effects.findLast(({ kind }) => kind === "write")).toMatchObject({ person: "KM" });
  });

  test("all of them lapse when the mains returns: what was unplugged is asked for anew", () => {
    const up = "{ power-up: fixture, id: up-again }";
    const steps = ["hold-point: unplugged", "power-up: fixture", "reading: electrical-safety", up, "sweep: Iris"];
    const run = byHand(new Driven(jobOf(steps)).begin(), never);
    expect(run.session.holds).toEqual(["unplugged"]);
    run.send({ kind: "confirm" });
    expect(run.session.stage, "the mains is on").toMatchObject({ kind: "moving", index: 0 });
    expect(run.session.holds).toEqual([]);
    run.playOut().send({ kind: "judge", result: "pass" });
    expect(taskOf(run)).toMatchObject({ kind: "hold-point", point: "unplugged" });
  });

  test("nobody's confirmation is none", () => {
    const run = swept().send({ kind: "person", initials: "" }).send({ kind: "confirm" });
    expect(taskOf(run)).toMatchObject({ kind: "hold-point", point: "isolated" });
    expect(
      run.send({ kind: "person", initials: "KM" }).send({ kind: "confirm" }).events("hold-confirmed").at(-1)?.point,
    ).toBe("isolated");
  });

  test("a look behind a cover asks for them even where the sequence does not", () => {
    const run = new Driven(jobOf(["{ inspect: capacitors }", "power-up: fixture"])).begin();
    const points = byHand(run, ({ kind }) => kind === "look")
      .events("hold-confirmed")
      .map(({ point }) => point);
    expect(points).toEqual([...OPENING]);
  });

  test("nothing moves before it is closed again, asked for or not", () => {
    const run = new Driven(jobOf(["{ inspect: capacitors }", "power-up: fixture"])).begin();
    byHand(run, isHold(CLOSING[0]));
    expect(taskOf(run)).toMatchObject({ kind: "hold-point", point: CLOSING[0] });
    byHand(run, never);
    expect(
      run
        .events("hold-confirmed")
        .slice(-2)
        .map(({ point }) => point),
    ).toEqual([...CLOSING]);
    expect(run.session.stage).toMatchObject({ kind: "holding", point: "mains-on" });
  });

  test("they lapse with the session: whoever resumes confirms them again before going on", () => {
    const run = byHand(swept(), (task) => task.kind === "look" && task.inspection === "yoke-wires");
    const again = new Driven(run.session.job, run.bodies).begin();
    expect(taskOf(again)).toMatchObject({ kind: "hold-point", point: "isolated" });
    byHand(again, ({ kind }) => kind === "look");
    expect(taskOf(again)).toMatchObject({ kind: "look", inspection: "yoke-wires" });
  });

  test("a fixture that was left open is closed before it is replayed", () => {
    const job = jobOf(["power-up: fixture"]);
    const past = OPENING.map(
      (point) => ({ run: "yesterday", person: "KM", body: { kind: "hold-confirmed", point } }) as const,
    );
    expect(taskOf(new Driven({ ...job, past }).begin())).toMatchObject({ kind: "hold-point", point: CLOSING[0] });
  });

  test("the line may be lost meanwhile: the work goes on, the line is opened anew, the area is asked about later", () => {
    const run = byHand(swept(), ({ kind }) => kind === "look").send({ kind: "line-lost", words: "pulled out" });
    expect(taskOf(run)?.kind).toBe("look");
    expect(run.effects.at(-1)).toEqual({ kind: "open-line", patience: "until-open" });
    expect(run.session).toMatchObject({ trouble: "pulled out", cleared: false });
    expect(run.send({ kind: "line-open" }).session.trouble).toBeUndefined();
  });
});

describe("a danger", () => {
  const powered = (run: Driven) => run.effects.filter(({ kind }) => kind === "mains-on" || kind === "play").length;

  test("a bad inspection of the wires that is left open is neither closed nor switched on: repaired and inspected again, or locked out", () => {
    const run = byHand(swept(), ({ kind }) => kind === "fault", ["yoke-wires"]);
    const before = powered(run);
    run.send({ kind: "name-fault", fault: "nothing" });
    expect(taskOf(run)).toMatchObject({ kind: "blocked", dangers: [{ source: "yoke-wires", wants: "repair" }] });
    run.send({ kind: "confirm" });
    expect(taskOf(run)).toMatchObject({ kind: "fault" });
    run.send({ kind: "name-fault", fault: "insulation-worn" }).send({ kind: "confirm" });
    run.send({ kind: "name-fault", fault: "nothing" });
    expect(taskOf(run)).toMatchObject({ kind: "look", inspection: "yoke-wires", why: "again" });
    byHand(run, isHold(CLOSING[0]));
    expect(taskOf(run)).toMatchObject({ kind: "hold-point", point: CLOSING[0] });
    expect(powered(run)).toBe(before);
  });

  test("an earth out of limit ends locked out, and the sheet's reasons begin with it", () => {
    const steps = ["power-up: fixture", "hold-point: opening", "reading: earth-continuity", "hold-point: closing"];
    const run = byHand(new Driven(jobOf(steps)).started().playOut(), never).send({ kind: "confirm" });
    byHand(run, ({ kind }) => kind === "reading");
    run.send({ kind: "filled", what: "initials", text: "EE" }).send({ kind: "judge", result: "fail" });
    expect(taskOf(run)?.kind).toBe("blocked");
    run.send({ kind: "decline" });
    expect(run.session.stage).toEqual({ kind: "finished", how: "stopped" });
    const { profile } = run.session.job.timeline;
    const standing = releaseStatusOf(historyNow(run.session), fittedOf(profile));
    expect(standing.state).toBe("blocked");
    expect(verdictInWords(verdictOf(standing))).toMatch(
      /^Do not use: earth broken between base, yoke and head, and \d+ more$/,
    );
  });

  test("an answer that was a slip is taken back at once, and asked for again", () => {
    const run = byHand(swept(), (task) => task.kind === "look" && task.inspection === "yoke-wires");
    run.send({ kind: "judge", result: "fail" }).send({ kind: "undo" });
    expect(taskOf(run)).toMatchObject({ kind: "look", inspection: "yoke-wires" });
    expect(run.events("inspection-corrected")).toHaveLength(1);
    byHand(run.send({ kind: "judge", result: "pass" }), isHold(CLOSING[0]));
    expect(taskOf(run)).toMatchObject({ kind: "hold-point", point: CLOSING[0] });
  });

  test("the computer may stand still meanwhile: the question stays, and nothing is closed or switched on for it", () => {
    const run = byHand(swept(), ({ kind }) => kind === "look");
    const before = taskOf(run);
    run.send({ kind: "stood-still", time: 2.5 });
    expect(taskOf(run)).toEqual(before);
    expect(run.session.holds).toEqual(expect.arrayContaining([...OPENING]));
    expect(run.events("course-changed").filter(({ what }) => what === "away")).toEqual([]);
  });

  test("after a long time nobody knows whether it is still isolated: that is asked anew before the next inspection", () => {
    const run = byHand(swept(), ({ kind }) => kind === "look").send({ kind: "stood-still", time: 3600 });
    run.send({ kind: "judge", result: "pass" });
    expect(taskOf(run)).toMatchObject({ kind: "hold-point", point: OPENING[0] });
  });
});

describe("looks", () => {
  test("what the fault model proposes comes first, then what is always due", () => {
    const run = byHand(swept("fail"), ({ kind }) => kind === "look");
    expect(taskOf(run)).toMatchObject({ kind: "look", why: "proposed" });
    const whys: string[] = [];
    byHand(run, (task) => {
      if (task.kind === "look") whys.push(task.why);
      if (task.kind === "looks") whys.push("due");
      return task.kind !== "look" && task.kind !== "looks";
    });
    // What is due may give the model a new thought; as long as it has any, that is looked at first.
    expect(whys.slice(0, 3)).toEqual(["proposed", "proposed", "proposed"]);
    expect(whys.at(-1)).toBe("due");
  });

  test("with nothing wrong only what is due is looked at", () => {
    expect(taskOf(byHand(swept(), ({ kind }) => kind === "look"))).toMatchObject({
      why: "due",
      inspection: "capacitors",
    });
  });

  test("note and photo are kept with the answer; not asked is an answer", () => {
    const run = byHand(swept(), ({ kind }) => kind === "look");
    run.send({ kind: "note", text: "a little brown" }).send({ kind: "filled", what: "photo", text: "cap-3.jpg" });
    run.send({ kind: "judge", result: "not-asked" });
    expect(run.events("inspected").at(-1)).toEqual({
      kind: "inspected",
      inspection: "capacitors",
      answer: "not-asked",
      note: "a little brown",
      photo: "cap-3.jpg",
    });
  });

  test("looks under one cover are answered together, each of them kept; what may be a danger was asked by itself before", () => {
    const run = byHand(swept(), ({ kind }) => kind === "looks");
    const alone = run.events("inspected").filter(({ together }) => !together);
    expect(alone.map(({ inspection: id }) => id)).toEqual([
      "plug-and-cord",
      "water",
      "yoke-entry",
      "brackets",
      "capacitors",
      "power-links",
    ]);
    const task = taskOf(run);
    if (task?.kind !== "looks") throw new Error("not at the looks of a cover");
    expect(task).toMatchObject({ cover: "base", more: 0 });
    const before = run.events("inspected").length;
    run.send({ kind: "judge", result: "pass" });
    expect(run.events("inspected").slice(before)).toEqual(
      task.inspections.map((id) => ({ kind: "inspected", inspection: id, answer: "good", note: "", together: true })),
    );
    expect(taskOf(run)).toMatchObject({ kind: "look", inspection: "yoke-wires" });
  });

  test.each(SAFETY_INSPECTIONS.filter((id) => id !== "earth-continuity"))(
    "%s may be a danger: it is asked by itself, whatever else is asked under its cover",
    (id) => {
      const { cover } = inspection(id);
      const beside = INSPECTION_IDS.filter((one) => inspection(one).cover === cover && !isSafetyInspection(one));
      const run = new Driven(jobOf([`{ inspect: [${[...beside.slice(0, 3), id].join(", ")}] }`, "power-up: fixture"]));
      byHand(run.begin(), never);
      expect(run.events("inspected").find((one) => one.inspection === id)).toEqual({
        kind: "inspected",
        inspection: id,
        answer: "good",
        note: "",
      });
      expect(run.events("inspected").filter((one) => one.together).length).toBeGreaterThan(1);
    },
  );

  test("what is not good is picked out by its digit, and the others are answered together after it", () => {
    const run = byHand(swept(), ({ kind }) => kind === "looks").send({ kind: "choose", offer: 0 });
    expect(taskOf(run)).toMatchObject({ kind: "look", inspection: "loose-screws" });
    run.send({ kind: "note", text: "one below the supply" }).send({ kind: "judge", result: "fail" });
    byHand(run, ({ kind }) => kind === "looks");
    const task = taskOf(run);
    expect(task?.kind === "looks" && task.inspections).not.toContain("loose-screws");
    expect(run.events("inspected").at(-1)).toMatchObject({ answer: expect.stringMatching(/good|bad/) });
  });

  test.each(["confirm", "press", "again", "decline"] as const)("%s is not a valid answer for all of them", (kind) => {
    const run = byHand(swept(), (task) => task.kind === "looks");
    const before = run.bodies.length;
    expect(run.send({ kind }).bodies.length).toBe(before);
  });

  test("a press that nobody could name proposes no looks on top of those that are due", () => {
    const run = new Driven(jobOf(JOB)).begin();
    byHand(run, never).send({ kind: "confirm" }).send({ kind: "confirm" }).playOut().send({ kind: "confirm" });
    run.playOut().send({ kind: "press" });
    while (run.session.stage.kind !== "by-hand") {
      if (run.session.stage.kind === "asking") run.send({ kind: "judge", result: "unsure" });
      else if (run.session.stage.kind === "moving") run.playOut();
      else run.send({ kind: "confirm" });
    }
    const whys = new Set<string>();
    byHand(run, (task) => {
      if (task.kind === "look") whys.add(task.why);
      return task.kind === "fault";
    });
    expect(whys).toEqual(new Set(["due"]));
  });

  test("after six good looks that only the fault model wanted it proposes no more", () => {
    const due = new Set(alwaysDue(new Set(MECHANISM_IDS)));
    const extra: string[] = [];
    byHand(swept("fail"), (task) => {
      if (task.kind === "look" && !due.has(task.inspection)) extra.push(task.inspection);
      return task.kind === "fault";
    });
    expect(extra.length).toBeLessThanOrEqual(6);
  });

  test("the look before can be answered anew", () => {
    const run = byHand(swept(), ({ kind }) => kind === "look")
      .send({ kind: "judge", result: "pass" })
      .send({ kind: "undo" });
    expect(taskOf(run)).toMatchObject({ kind: "look", inspection: "capacitors" });
  });
});

describe("what was it, and what was done", () => {
  test("asked before it is closed, likeliest first; the mended fault with part, minutes and initials; then the bad look again", () => {
    const run = byHand(swept("fail"), ({ kind }) => kind === "fault", ["iris-leaves"]);
    const task = taskOf(run);
    expect(task?.kind === "fault" && task.choices[0]).toBe("iris-leaf-bent");
    run.send({ kind: "name-fault", fault: "iris-leaf-bent" });
    expect(taskOf(run)).toMatchObject({ kind: "mend", mended: "iris-leaf-bent", initials: "KM" });
    run
      .send({ kind: "filled", what: "part", text: "iris" })
      .send({ kind: "filled", what: "minutes", text: "12,5" })
      .send({ kind: "confirm" });
    expect(run.events("repaired")).toEqual([
      {
        kind: "repaired",
        what: "fault",
        fault: "iris-leaf-bent",
        part: "iris",
        minutes: 12.5,
        initials: "KM",
        note: "",
      },
    ]);
    expect(run.effects).toContainEqual({ kind: "mended", fault: "iris-leaf-bent" });
    run.send({ kind: "name-fault", fault: "nothing" });
    expect(taskOf(run)).toMatchObject({ kind: "look", inspection: "iris-leaves", why: "again" });
    run.send({ kind: "judge", result: "pass" });
    expect(taskOf(run)).toMatchObject({ kind: "hold-point", point: CLOSING[0], step: "hold-point-closing" });
  });

  test("something else wants words; no fault found is kept as such", () => {
    const run = byHand(swept("fail"), ({ kind }) => kind === "fault").send({
      kind: "name-fault",
      fault: "something-else",
    });
    expect(taskOf(run)?.kind).toBe("fault");
    run.send({ kind: "note", text: "a glove in the iris" }).send({ kind: "name-fault", fault: "something-else" });
    expect(run.events("found")).toEqual([{ kind: "found", what: "something-else", note: "a glove in the iris" }]);
    const none = byHand(swept("fail"), ({ kind }) => kind === "fault").send({ kind: "name-fault", fault: "nothing" });
    expect(none.events("found")).toEqual([{ kind: "found", what: "nothing", note: "" }]);
    expect(taskOf(none)).toMatchObject({ kind: "hold-point", point: CLOSING[0] });
  });

  test("with nothing wrong nobody is asked", () => {
    expect(taskOf(byHand(swept(), isHold(CLOSING[0])))).toMatchObject({ kind: "hold-point", point: CLOSING[0] });
  });

  test("a dirty lens is looked at again once it is cleaned", () => {
    const run = byHand(new Driven(jobOf(JOB)).begin(), never, ["front-lens"]);
    run.send({ kind: "confirm" }).send({ kind: "confirm" }).playOut().send({ kind: "confirm" });
    while (run.session.stage.kind !== "by-hand") {
      if (run.session.stage.kind === "asking" || run.session.stage.kind === "what-next") run.send({ kind: "confirm" });
      else run.playOut();
    }
    byHand(run, (task) => task.kind === "look" && task.why === "again");
    expect(run.events("cleaned").at(-1)?.cleaning).toBe("front-lens");
    expect(taskOf(run)).toMatchObject({ inspection: "front-lens", why: "again" });
  });
});

/** Common practice, no source: how dirty it came back decides pads and minutes, so it is asked before anything is cleaned. */
describe("cleaning", () => {
  const ALL = ["hold-point: opening", "clean: due", "hold-point: closing"];
  const cleaning = () => byHand(new Driven(jobOf(["power-up: fixture", ...ALL])).begin(), never);
  const asked = (): Driven => {
    const run = cleaning();
    while (run.session.stage.kind !== "by-hand") run.send({ kind: "confirm" }).playOut();
    return byHand(run, ({ kind }) => kind === "dirt");
  };

  test("how dirty is asked once, then everything stands on one page, and each place is kept", () => {
    const run = asked().send({ kind: "choose", offer: 1 });
    expect(run.events("dirt-judged")).toEqual([{ kind: "dirt-judged", dirt: "ordinary" }]);
    expect(taskOf(run)).toMatchObject({ kind: "cleans", dirt: "ordinary" });
    run.send({ kind: "judge", result: "pass" });
    expect(run.events("cleaned").map(({ cleaning: id, done }) => [id, done])).toEqual([
      ["dust", "done"],
      ["flags", "done"],
      ["wheels", "done"],
      ["prism-and-frost", "done"],
      ["light-pipe", "done"],
      ["inner-lenses", "done"],
      ["front-lens", "done"],
    ]);
  });

  test("how dirty it was the last time stands there: agreed to by the answer that all is done, and another by a key of its own", () => {
    const past = [{ run: "earlier", person: "JK", body: { kind: "dirt-judged", dirt: "heavy" } }] as const;
    const remembered = (): Driven => {
      const run = byHand(new Driven({ ...jobOf(["power-up: fixture", ...ALL]), past }).begin(), never);
      while (run.session.stage.kind !== "by-hand") run.send({ kind: "confirm" }).playOut();
      return byHand(run, ({ kind }) => kind === "cleans");
    };
    const agreed = remembered();
    expect(taskOf(agreed)).toMatchObject({ kind: "cleans", dirt: "heavy" });
    expect(agreed.events("dirt-judged"), "nobody has said so yet").toEqual([]);
    expect(agreed.send({ kind: "judge", result: "pass" }).events("dirt-judged")).toMatchObject([{ dirt: "heavy" }]);
    const other = remembered().send({ kind: "again" });
    expect(taskOf(other)).toEqual({ kind: "dirt" });
    expect(taskOf(other.send({ kind: "choose", offer: 0 }))).toMatchObject({ kind: "cleans", dirt: "light" });
  });

  test("with dust only, glass without a film is kept as not needed, and never as done", () => {
    const run = asked().send({ kind: "choose", offer: 0 }).send({ kind: "judge", result: "pass" });
    expect(run.events("cleaned").filter(({ done }) => done === "not-needed")).toMatchObject([
      { cleaning: "flags" },
      { cleaning: "wheels" },
      { cleaning: "prism-and-frost" },
      { cleaning: "inner-lenses" },
    ]);
  });

  test("what is left out is picked out first and says why", () => {
    const run = asked().send({ kind: "choose", offer: 1 }).send({ kind: "choose", offer: 2 });
    run.send({ kind: "note", text: "no pads left" }).send({ kind: "judge", result: "not-asked" });
    expect(run.events("cleaned")).toEqual([
      { kind: "cleaned", cleaning: "wheels", done: "left-out", note: "no pads left" },
    ]);
    expect(taskOf(run)).toMatchObject({ kind: "cleans" });
  });
});

describe("readings", () => {
  const measuring = () => byHand(swept(), (task) => task.kind === "reading" && task.reading === "electrical-safety");

  test("what a competent person takes does not count without that person's initials", () => {
    const run = byHand(swept(), ({ kind }) => kind === "reading");
    run.send({ kind: "filled", what: "value", text: "0,07" }).send({ kind: "judge", result: "pass" });
    expect(taskOf(run)).toMatchObject({ kind: "reading", initials: "" });
    run.send({ kind: "filled", what: "initials", text: "EE" }).send({ kind: "judge", result: "pass" });
    expect(run.events("reading-taken")).toMatchObject([
      { reading: "earth-continuity", value: 0.07, unit: "ohm", verdict: "within", initials: "EE" },
    ]);
  });

  test("whoever measured before stands there for the next measurement, to be agreed to or replaced", () => {
    const run = measuring();
    expect(taskOf(run)).toMatchObject({ kind: "reading", reading: "electrical-safety", initials: "EE" });
    run.send({ kind: "filled", what: "initials", text: "LM" }).send({ kind: "judge", result: "pass" });
    expect(run.events("reading-taken").at(-1)).toMatchObject({ reading: "electrical-safety", initials: "LM" });
  });

  test("not taken is kept as such, and stands against the signature", () => {
    const run = measuring().send({ kind: "judge", result: "not-asked" });
    expect(run.events("reading-taken").at(-1)).toMatchObject({ verdict: "not-taken", initials: "" });
  });
});

describe("the end", () => {
  /** A fixture with an iris and little else would do; the spot of these tests has more, so that "untested" stands against it. */
  const ended = () => {
    const run = byHand(swept(), never);
    for (let turn = 0; turn < 4 && taskOf(run)?.kind !== "sign"; turn++)
      if (run.session.stage.kind === "moving" || run.session.stage.kind === "slow-start") run.playOut();
      else run.send({ kind: "confirm" });
    return run;
  };

  test("everything that stands against a signature is said, and a signature does nothing meanwhile", () => {
    const run = ended();
    const task = taskOf(run);
    if (task?.kind !== "sign") throw new Error("not at the signature");
    expect(new Set(task.reasons.map(({ rule }) => rule))).toEqual(new Set(["tested"]));
    run.send({ kind: "judge", result: "pass" });
    expect(run.events("signed-off")).toEqual([]);
    expect(taskOf(run)?.kind).toBe("sign");
  });

  test("put by: with every reason and a person's own words, after the run is closed", () => {
    const run = ended().send({ kind: "note", text: "iris on order" }).send({ kind: "judge", result: "fail" });
    const [put] = run.events("quarantined");
    expect(put).toMatchObject({ initials: "KM", note: "iris on order" });
    expect(put?.reasons.length).toBeGreaterThan(5);
    expect(run.bodies.slice(-2).map(({ kind }) => kind)).toEqual(["run-closed", "quarantined"]);
    expect(run.session.stage).toEqual({ kind: "finished", how: "finished" });
  });

  test("with nothing against it, nobody holds it back without a word of their own", () => {
    const sign = (note: string) => {
      const run = ended();
      run.session = { ...run.session, stage: { kind: "by-hand", task: { kind: "sign", reasons: [], note } } };
      return run.send({ kind: "judge", result: "fail" });
    };
    expect(taskOf(sign(""))?.kind).toBe("sign");
    expect(sign("smells odd").events("quarantined")).toMatchObject([{ reasons: [], note: "smells odd" }]);
  });

  test.each([
    { people: [], signs: true, because: "nobody is named for it, so everybody may" },
    { people: [{ initials: "KM", may: ["release"] }], signs: true, because: "KM is named for it" },
    { people: [{ initials: "EE", may: ["release"] }], signs: false, because: "somebody else is" },
    { people: [{ initials: "EE", may: ["measure"] }], signs: true, because: "only measuring is reserved" },
  ] as const)("with nothing against it, KM signs: $signs, because $because", ({ people, signs }) => {
    const run = ended();
    const { session } = run;
    const task = { kind: "sign", reasons: [], note: "" } as const;
    run.session = { ...session, job: { ...session.job, people }, stage: { kind: "by-hand", task } };
    run.send({ kind: "judge", result: "pass" });
    expect(run.events("signed-off")).toEqual(signs ? [{ kind: "signed-off", initials: "KM", note: "" }] : []);
    expect(run.session.stage.kind).toBe(signs ? "finished" : "by-hand");
  });

  test("left as it stands it just ends", () => {
    expect(ended().send({ kind: "confirm" }).bodies.at(-1)).toEqual({ kind: "run-closed", how: "finished" });
  });

  test("an answer to a look that is over does nothing", () => {
    const run = byHand(swept(), ({ kind }) => kind === "look");
    const old = questionOf(run.session) ?? "";
    run.send({ kind: "judge", result: "pass" }).send({ kind: "judge", result: "fail", answers: old });
    expect(run.events("inspected").filter(({ answer }) => answer === "bad")).toEqual([]);
  });
});

test("what was found is mended before the earth is measured: work on the loom would want the reading again", () => {
  const steps = ["{ sweep: Iris }", "hold-point: opening", "reading: earth-continuity", "hold-point: closing"];
  const run = new Driven(jobOf(steps)).started().playOut();
  run.send({ kind: "symptom", symptom: { symptom: "grinds", function: "Iris" } }).send({ kind: "confirm" });
  while (run.session.stage.kind !== "by-hand") run.send({ kind: "confirm" });
  byHand(run, ({ kind }) => kind !== "hold-point");
  expect(taskOf(run)?.kind).toBe("fault");
  run.send({ kind: "name-fault", fault: "nothing" });
  expect(taskOf(run)?.kind).toBe("reading");
});
