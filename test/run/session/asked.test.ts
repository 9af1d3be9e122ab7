import { describe, expect, test } from "vitest";
import type { FixtureSaid } from "../../../src/run/events/fixture-said.ts";
import { askingTime, fixtureTold, wantedOf } from "../../../src/run/session/asked.ts";
import { openSession, type Session } from "../../../src/run/session/session.ts";
import { jobOf } from "../../kit/driven.ts";

const SAID: FixtureSaid = {
  kind: "fixture-said",
  ...{ uid: "7FF0:00000002", maker: "", model: "", label: "", software: "", serial: "A-17", address: 1 },
  mode: { number: 1, count: 2, name: "", slots: 30 },
  counters: { LAMP_HOURS: 310 },
  ...{ settings: {}, sensors: [], status: [], slots: [], self_tests: [], troubles: [] },
};
const opened = (steps: readonly string[] = ["{ sweep: Pan, passes: 1 }"]): Session => openSession(jobOf(steps), "KM");
const fixtureSaid = (session: Session, body: FixtureSaid) =>
  fixtureTold(session, { kind: "fixture-said", run: "r", body });
const judged = (session: Session, step: string): Session => ({
  ...session,
  view: {
    ...session.view,
    steps: session.job.timeline.steps.map(({ id, routine, functions }) => ({
      id,
      routine,
      functions,
      fingerprint: "",
      attempt: 1,
      pace: 1,
      presses: [],
      attempts: [],
      judged: undefined,
      judgedBy: 0,
    })),
  },
  told: [
    ...session.told,
    {
      kind: "step-judged",
      step,
      attempt: 1,
      result: "pass",
      symptoms: [],
      note: "",
      watched: "attended",
      lit_min: 0,
      attitude: "standing",
      on_watch_min: 0,
      rig: { worst_late_s: 0, dropped: 0, lost: false },
    },
  ],
});

describe("when a fixture is asked itself", () => {
  test("not before the line is open", () => {
    expect(askingTime(opened())).toBe("not now");
    expect(wantedOf(opened(), "not now")).toBeUndefined();
  });

  test("everything once, where it has power from the beginning", () => {
    const session = opened();
    expect(wantedOf(session, "while it stands")).toEqual({ kind: "everything", since: 0 });
    const [after] = fixtureSaid(session, SAID);
    expect(wantedOf(after, "while it stands")).toBeUndefined();
  });

  test("where a sequence switches it on: not before that was watched to its end, and again after every power-up", () => {
    const session = opened(["{ power-up: fixture, id: up }", "{ sweep: Pan, passes: 1 }"]);
    expect(wantedOf(session, "while it stands")).toBeUndefined();
    const up = judged(session, "up");
    expect(wantedOf(up, "while it stands")).toEqual({ kind: "everything", since: 0 });
    const [said] = fixtureSaid(up, SAID);
    const off: Session = { ...said, told: [...said.told, { kind: "hold-confirmed", point: "isolated" }] };
    expect(wantedOf(off, "while it stands")).toBeUndefined();
    expect(wantedOf(judged(off, "up"), "while it stands")).toMatchObject({ kind: "everything" });
  });

  test("its sensors while it soaks, where it has any", () => {
    const sensor = {
      number: 0,
      name: "Head",
      kind: "temperature" as const,
      unit: "C",
      scale: 1,
      value: 40,
      lowest: 40,
      highest: 40,
      normal: {},
    };
    const [none] = fixtureSaid(opened(), SAID);
    expect(wantedOf(none, "while it soaks")).toBeUndefined();
    const [some] = fixtureSaid(opened(), { ...SAID, sensors: [sensor] });
    expect(wantedOf(some, "while it soaks")).toMatchObject({ kind: "sensors", known: { sensors: [{ name: "Head" }] } });
  });
});

describe("what comes of its answer", () => {
  test("its lamp hours are a reading with the fixture as its source, written once", () => {
    const [first] = fixtureSaid(opened(), SAID);
    const [second] = fixtureSaid(first, { ...SAID, counters: { LAMP_HOURS: 311 } });
    expect(second.view.readings).toEqual([
      {
        kind: "reading-taken",
        reading: "source-hours",
        value: 310,
        unit: "h",
        verdict: "within",
        initials: "",
        note: "",
        source: "fixture",
      },
    ]);
    expect(second.view.said.length).toBe(2);
  });

  test.each([
    { said: SAID, trouble: undefined, because: "address and slots are those of the run" },
    {
      said: { ...SAID, address: 31 },
      trouble: "the fixture says it listens at address 31 with 30 slots; this run drives 1 with 30",
      because: "another address",
    },
    {
      said: { ...SAID, mode: { number: 2, count: 2, name: "", slots: 24 } },
      trouble: "the fixture says it listens at address 1 with 24 slots; this run drives 1 with 30",
      because: "another mode",
    },
  ])("before anything moves it is said: $because", ({ said, trouble }) => {
    expect(fixtureSaid(opened(), said)[0].trouble).toBe(trouble);
  });
});
