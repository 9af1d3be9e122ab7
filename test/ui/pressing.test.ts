import { describe, expect, test } from "vitest";
import type { WatcherInput } from "../../src/run/machine/input.ts";
import type { Desk } from "../../src/ui/sight.ts";
import { Driven, jobOf } from "../kit/driven.ts";
import { AGREE, drawnOf, saidTo, Typist } from "./sights.ts";

const STEPS = ["sweep: Pan", "sweep: [Pan, Tilt]", "sweep: Iris"];
const attended = () => new Driven(jobOf(STEPS)).started();
const handsOff = () => new Driven(jobOf(STEPS, { mode: "hands-off" })).started();
/** What one key at a fresh desk says to the session as it stands. */
const said = (run: Driven, key: string, desk?: Desk): readonly WatcherInput[] =>
  saidTo(drawnOf(run.session), key, desk);

describe("while it moves", () => {
  test.each([
    { key: "space", says: { kind: "press", answers: "0.1" }, because: "the press button" },
    { key: "pagedown", says: { kind: "press", answers: "0.1" }, because: "the same from a presenter remote" },
    { key: "A", says: { kind: "again", answers: "0.1" }, because: "the again button" },
    { key: "escape", says: { kind: "stop" }, because: "the stop button" },
    { key: "3", says: { kind: "here" }, because: "digits wait until the step is over; any key is a sign of life" },
    { key: "g", says: { kind: "here" }, because: "so do letters" },
    { key: "u", says: { kind: "undo", answers: "0.1" }, because: "the area is not clear after all" },
    { key: "enter", says: { kind: "here" }, because: "so does a yes" },
    { key: "pasted:s", says: { kind: "here" }, because: "pasted text is no command, whatever letters it has" },
    { key: "another key", says: { kind: "here" }, because: "even one that nobody knows" },
    { key: "ctrl-c", says: { kind: "signal", name: "SIGINT" }, because: "it means what it means everywhere" },
  ])("$key says $says.kind: $because", ({ key, says }) => {
    expect(said(attended(), key)).toEqual([says]);
  });

  test("leaving waits until the step is over; asked for again it is taken back", () => {
    const at = new Typist(handsOff());
    at.press("w");
    expect(at.desk.wanted).toBe("away");
    expect(at.run.session.stage.kind).toBe("moving");
    at.press("h");
    expect(at.desk.wanted).toBe("freeze");
    at.press("h");
    expect(at.desk.wanted).toBeUndefined();
  });
});

test("a key answers the question that was drawn, whatever has come since", () => {
  const run = attended();
  const drawn = drawnOf(run.session);
  run.playOut();
  expect(saidTo(drawn, "space")).toEqual([{ kind: "press", answers: "0.1" }]);
  expect(saidTo(drawn, "enter")).toEqual([{ kind: "here" }]);
});

describe("at a question", () => {
  const asked = () => new Typist(attended().playOut());

  test.each([
    { keys: ["enter"], result: "pass", because: "nothing named, nothing pressed" },
    { keys: ["3", "enter"], result: "fail", because: "a symptom was named" },
    { keys: ["3", "3", "enter"], result: "pass", because: "naming it twice takes it back" },
    { keys: ["x"], result: "unsure", because: "the letter for it" },
    { keys: ["f"], result: "fail", because: "it failed in a way that is not listed" },
    { keys: ["3", "u", "enter"], result: "pass", because: "undo takes back the last symptom" },
  ])("$keys: $result, because $because", ({ keys, result }) => {
    expect(
      asked()
        .press(...keys)
        .run.results()["sweep-pan"],
    ).toBe(result);
  });

  test("a press that was none after all", () => {
    const at = new Typist(attended().send({ kind: "press" }, 90).playOut());
    expect(at.press("g").run.results()["sweep-pan"]).toBe("pass");
  });

  test("several symptoms, also from the list of the fixture as a whole behind 0, typed without waiting for the screen", () => {
    const { run } = asked().press("1", "0", "2", "enter");
    expect(run.events("step-judged")[0]?.symptoms).toEqual([
      { symptom: "no-move", function: "Pan" },
      { symptom: "reset-itself" },
    ]);
  });

  test("0 leafs on to what is rare and round to the first list", () => {
    const at = asked().press("0", "0");
    expect(at.page()).toContain("rattles");
    at.press("0", "0");
    expect(at.page()).toContain("1  does not move");
  });

  test("a digit without a line is a sign of life", () => {
    const at = asked().press("0");
    expect(said(at.run, "9", at.desk)).toEqual([{ kind: "here" }]);
  });

  test("of a step with two functions TAB tells of the other", () => {
    const at = new Typist(attended().playOut().send({ kind: "confirm" }).playOut());
    at.press("tab", "3", "enter");
    expect(at.run.events("step-judged")[1]?.symptoms).toEqual([{ symptom: "jerks", function: "Tilt" }]);
  });

  test("of the fixture as a whole TAB opens a list of its functions", () => {
    const run = new Driven(jobOf(["power-up: fixture", ...STEPS])).begin().send({ kind: "confirm" });
    const at = new Typist(run.send({ kind: "confirm" }).playOut());
    at.press("tab");
    expect(at.page()).toContain("2  pan\n");
    at.press("0", "1");
    expect(at.page()).toMatch(/^ {2}Symptoms of /m);
    at.press("tab", "0", "0", "9");
    expect(at.page()).toContain("Which function?");
    at.press("0", "2");
    expect(at.page()).toContain("Symptoms of pan:");
    at.press("1", "enter");
    expect(at.run.events("step-judged")[0]?.symptoms[0]).toMatchObject({ function: "Pan" });
  });

  test("a note is typed to its end: letters and buttons are only letters then", () => {
    const at = asked().press("n", ..."as 3", "space", "s", "escape");
    expect(at.desk.entry).toBeUndefined();
    expect(at.run.session.stage).toMatchObject({ kind: "asking", note: "" });
    at.press("n", "a", "s", "x", "backspace", "space", "u", "pagedown", "tab", "enter", "enter");
    expect(at.run.events("step-judged")[0]).toMatchObject({ result: "pass", note: "as u" });
  });

  test("pasted text is typed into a note, and a line break in it ends the note", () => {
    const at = asked().press("n", "a", "pasted:s stop\r", "enter");
    expect(at.run.events("step-judged")[0]).toMatchObject({ result: "pass", note: "as stop" });
  });

  test("the initials of whoever watches go with what follows", () => {
    const at = asked().press("i", "j", "b", "enter", "enter");
    expect(
      at.run.effects.findLast((effect) => effect.kind === "write" && effect.body.kind === "step-judged"),
    ).toMatchObject({
      person: "jb",
    });
  });

  test.each([
    { key: "a", leads: { kind: "moving", index: 0, attempt: 2 }, because: "again" },
    { key: "l", leads: { kind: "moving", index: 0, step: { pace: 0.5 } }, because: "slower" },
    { key: "w", leads: { kind: "asking", index: 0 }, because: "whoever leaves finds the question open" },
    { key: "s", leads: { kind: "finished", how: "stopped" }, because: "stop" },
    { key: "space", leads: { kind: "asking", index: 0 }, because: "a late press is not a valid answer" },
  ])("$key: $because", ({ key, leads }) => {
    expect(asked().press(key).run.session.stage).toMatchObject(leads);
  });

  test("the step before is played again", () => {
    const at = new Typist(attended().playOut().send({ kind: "confirm" }).playOut()).press("b");
    expect(at.run.session.stage).toMatchObject({ kind: "moving", index: 0, attempt: 2 });
  });

  test("two answers in one read: the second names a question that is over", () => {
    const run = attended().playOut();
    const drawn = drawnOf(run.session);
    for (const input of saidTo(drawn, "enter")) run.send(input);
    run.playOut();
    for (const input of saidTo(drawn, "enter")) run.send(input);
    expect(run.session.stage).toMatchObject({ kind: "asking", index: 1 });
  });
});

describe("elsewhere", () => {
  test.each(["enter", "space", "pagedown", "y"])("a safety page takes the letter that it shows, and not %s", (key) => {
    const at = new Typist(new Driven(jobOf(STEPS)).begin());
    expect(at.page()).toContain("C: all of this is confirmed.");
    expect(at.press(key).run.session.stage.kind).toBe("holding");
    expect(at.press("C").run.session.stage.kind).toBe("slow-start");
  });

  test("at the end of a group: I watched, I did not, take back", () => {
    const group = () => new Typist(handsOff().send({ kind: "press" }, 90).playOut().playOut().playOut()).press("f");
    expect(group().press("enter").run.results()).toMatchObject({ "sweep-iris": "pass" });
    expect(group().press("d").run.results()).toMatchObject({ "sweep-iris": "not-watched" });
    expect(group().press("u").run.session.stage).toMatchObject({ kind: "asking", index: 0 });
  });

  test("a pause ends by its own letter, and not by enter or the press button", () => {
    const at = new Typist(handsOff().send({ kind: "away" }, 20)).press("space", "enter");
    expect(at.run.session.stage.kind).toBe("paused");
    expect(at.page()).toContain("Y: I am here, continue.");
    expect(at.press("y").run.session.stage).toMatchObject({ kind: "holding", point: "before-moving" });
  });

  test("a lost line is not agreed to before it is back", () => {
    const at = new Typist(attended().send({ kind: "line-lost", words: "unplugged" }, 50)).press("c");
    expect(at.run.session.stage).toMatchObject({ kind: "line-lost", back: false });
    at.run.send({ kind: "line-open" });
    expect(at.press("enter", "space").run.session.stage.kind).toBe("line-lost");
    expect(at.press("c").run.session.stage.kind).toBe("slow-start");
  });

  test("another interface is agreed to by its own letter alone", () => {
    const identity = { number: "8", usb: "" };
    const at = new Typist(attended().send({ kind: "line-lost", words: "unplugged" }, 50));
    at.run.send({ kind: "stranger", identity, words: "another" });
    expect(at.press("enter", "space", "c", "y", "b").run.session.stage.kind).toBe("other-interface");
    expect(at.press("x").run.session.stage).toMatchObject({ kind: "line-lost", back: false });
  });
});

describe("a measurement", () => {
  const earth = () => new Typist(new Driven(jobOf(["{ reading: earth-continuity }", "power-up: fixture"])).begin());
  const task = (at: Typist) => {
    const { stage } = at.run.session;
    return stage.kind === "by-hand" ? stage.task : undefined;
  };
  const atReading = (): Typist => {
    const at = earth();
    for (let n = 0; n < 4 && task(at)?.kind === "hold-point"; n++) at.press(AGREE);
    return at;
  };

  test("a figure begins the value, ENTER keeps it and then asks for initials, and the answer follows", () => {
    const at = atReading().press(".", "0", "8", "enter");
    expect(task(at)).toMatchObject({ kind: "reading", value: 0.08 });
    at.press("enter", "E", "E", "enter").press("g");
    expect(at.run.events("reading-taken").at(-1)).toMatchObject({ value: 0.08, verdict: "within", initials: "EE" });
  });

  test("the letter of the answer ends the figure: it is kept and answered for", () => {
    const at = atReading().press("enter", "E", "E", "enter", ".", "0", "8", "g");
    expect(at.run.events("reading-taken").at(-1)).toMatchObject({ value: 0.08, verdict: "within", initials: "EE" });
  });

  test("without initials the letter answers nothing, and the value stays", () => {
    const at = atReading().press(".", "0", "8", "g");
    expect(at.run.events("reading-taken")).toEqual([]);
    expect(task(at)).toMatchObject({ kind: "reading", value: 0.08 });
  });
});

describe("all passed but some", () => {
  const STEPS = ["sweep: Pan", "sweep: Tilt", "sweep: Iris", "sweep: Zoom"];
  const asked = () => {
    const run = new Driven(jobOf(STEPS, { mode: "hands-off" })).started();
    for (let n = 0; n < STEPS.length; n++) run.send({ kind: "here" }).playOut();
    return new Typist(run);
  };

  test("marks by their numbers, one taken away again: the others pass at once, each marked one is asked about", () => {
    const typist = asked().press("2", "4", "3", "4");
    expect(typist.page()).toContain("2  tilt: full sweep - marked as wrong");
    expect(typist.page()).toContain("4  zoom: full sweep\n");
    expect(typist.page().replaceAll(/\s+/g, " ")).toContain("all but the 2 marked were good");
    const { run } = typist.press("enter");
    expect(run.results()).toEqual({
      "sweep-pan": "pass",
      "sweep-tilt": "open",
      "sweep-iris": "open",
      "sweep-zoom": "pass",
    });
    expect(run.session.stage).toMatchObject({ kind: "asking", index: 1 });
    typist.press("1", "enter");
    expect(run.session.stage).toMatchObject({ kind: "asking", index: 2 });
    typist.press("x");
    expect(run.results()).toMatchObject({ "sweep-tilt": "fail", "sweep-iris": "unsure" });
  });

  test("the same by the buttons alone", () => {
    const { run } = asked().press("space", "space", "space", "a", "space", "a");
    expect(run.results()).toMatchObject({ "sweep-pan": "open", "sweep-tilt": "pass", "sweep-zoom": "pass" });
    expect(run.session.stage).toMatchObject({ kind: "asking", index: 0 });
  });

  test("what was not watched does not pass because others are marked", () => {
    const run = new Driven(
      jobOf(["{ sweep: Pan, seconds: 40, passes: 2 }", "sweep: Tilt"], { mode: "hands-off" }),
    ).started();
    run.playOut().send({ kind: "here" }).playOut();
    new Typist(run).press("2", "enter");
    expect(run.results()).toEqual({ "sweep-pan": "not-watched", "sweep-tilt": "open" });
  });
});
