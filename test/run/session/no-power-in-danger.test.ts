import fc from "fast-check";
import { expect, test } from "vitest";
import { CLOSING } from "../../../src/domain/trade/hold-points.ts";
import type { EventBody } from "../../../src/run/events/event.ts";
import type { HandTask } from "../../../src/run/session/by-hand/task.ts";
import { oneOfADozen } from "../../kit/diagnosed.ts";
import { Driven, jobOf } from "../../kit/driven.ts";
import { againstPowerAnew } from "../release/asked-anew.ts";

const JOB = jobOf([
  "inspect: outside",
  "power-up: fixture",
  "{ sweep: Iris, passes: 1 }",
  "hold-point: opening",
  "{ inspect: [capacitors, power-links, driver-marks, yoke-wires, iris-leaves], id: inside }",
  "reading: earth-continuity",
  "hold-point: closing",
  "reading: electrical-safety",
  "{ inspect: [panel-keys], id: panel }",
  "{ power-up: fixture, id: last-power-up }",
]);

type Sent = Parameters<Driven["send"]>[0];
/** What a person, the line or the computer can do at any time. */
const anything: fc.Arbitrary<Sent> = fc.oneof(
  fc.constantFrom("pass", "fail", "unsure", "not-asked").map((result): Sent => ({ kind: "judge", result })),
  fc
    .constantFrom("earth-broken", "insulation-worn", "cord-damaged", "capacitor-bulged", "iris-leaf-bent", "nothing")
    .map((fault): Sent => ({ kind: "name-fault", fault })),
  fc.nat({ max: 3 }).map((offer): Sent => ({ kind: "choose", offer })),
  fc.constantFrom<Sent>(
    ...(["confirm", "decline", "again", "press", "undo", "freeze", "away", "go-on", "back", "slower"] as const).map(
      (kind) => ({ kind }),
    ),
    { kind: "line-lost", words: "out" },
    { kind: "line-open" },
    { kind: "stood-still", time: 3 },
    { kind: "stood-still", time: 3600 },
    { kind: "filled", what: "value", text: "0.08" },
    { kind: "filled", what: "initials", text: "EE" },
  ),
);

/** What leads on from where the run is: good answers, so that the runs come far. */
const leadingOn = (run: Driven): readonly Sent[] => {
  const { stage } = run.session;
  if (stage.kind !== "by-hand") return [{ kind: stage.kind === "paused" ? "go-on" : "confirm" }];
  return answersTo(stage.task);
};
const answersTo = (task: HandTask): readonly Sent[] => {
  switch (task.kind) {
    case "look":
    case "looks":
      return [{ kind: "judge", result: "pass" }];
    case "reading":
      return [
        { kind: "filled", what: "initials", text: "EE" },
        { kind: "filled", what: "value", text: "0.08" },
        { kind: "judge", result: "pass" },
      ];
    case "fault":
      return [{ kind: "name-fault", fault: task.choices[0] ?? "nothing" }];
    default:
      return [{ kind: "confirm" }];
  }
};
/** Bad answers where a danger could be, so that there are some. */
const worse = (run: Driven): readonly Sent[] => {
  const { stage } = run.session;
  const task = stage.kind === "by-hand" ? stage.task : undefined;
  if (task?.kind === "looks")
    return [
      { kind: "choose", offer: 0 },
      { kind: "judge", result: "fail" },
    ];
  if (task?.kind === "reading") return [...answersTo(task).slice(0, 1), { kind: "judge", result: "fail" }];
  return task?.kind === "fault" ? [{ kind: "name-fault", fault: "nothing" }] : [{ kind: "judge", result: "fail" }];
};

type Move = "on" | "worse" | "play-out" | Sent;
const moves: fc.Arbitrary<readonly Move[]> = fc.array(
  fc.oneof(
    { weight: 12, arbitrary: fc.constant("on" as const) },
    { weight: 2, arbitrary: fc.constant("worse" as const) },
    { weight: 4, arbitrary: fc.constant("play-out" as const) },
    { weight: 3, arbitrary: anything },
  ),
  { minLength: 40, maxLength: 90 },
);

const carriedOut = (run: Driven, move: Move): void => {
  if (move === "play-out") run.playOut();
  else for (const sent of move === "on" ? leadingOn(run) : move === "worse" ? worse(run) : [move]) run.send(sent);
};

/** Nothing that a diagnosis says may lead past a danger, whether it suits what was found or not. */
const diagnose = oneOfADozen();

const pathOf = (bodies: readonly EventBody[]) => bodies.map((body) => ({ run: "run-1", person: "KM", body }));

interface Tally {
  inDanger: number;
  powered: number;
}
/** Every effect for power or movement, and every step of closing, beside what had been written by then. */
const watched = (run: Driven, tally: Tally): void => {
  const bodies: EventBody[] = [];
  for (const effect of run.effects) {
    if (effect.kind === "write") bodies.push(effect.body);
    const closing = effect.kind === "write" && effect.body.kind === "hold-confirmed" && isClosing(effect.body.point);
    const powers = effect.kind === "mains-on" || effect.kind === "play";
    if (!(powers || closing)) continue;
    const open = againstPowerAnew(pathOf(bodies));
    if (powers) {
      tally.powered++;
      expect(open).toEqual([]);
    } else expect(open.filter((words) => !words.startsWith("the electrical test"))).toEqual([]);
  }
};
const isClosing = (point: string): boolean => CLOSING.some((one) => one === point);

test("no sequence of inputs gives power, moves anything or closes the fixture while a danger is open", () => {
  const tally: Tally = { inDanger: 0, powered: 0 };
  fc.assert(
    fc.property(moves, (all) => {
      const run = new Driven(JOB);
      run.diagnose = diagnose;
      run.begin();
      for (const move of all) carriedOut(run, move);
      watched(run, tally);
      if (againstPowerAnew(pathOf(run.bodies)).length > 0) tally.inDanger++;
    }),
    { numRuns: 120 },
  );
  expect(tally.inDanger).toBeGreaterThan(20);
  expect(tally.powered).toBeGreaterThan(100);
}, 400_000);
