import { profileFromSlots } from "../../data/profile/from-slots.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { typedLines } from "../../ui/typed-lines.ts";
import { awaitSelfTest, beginSelfTest, identify, readSlots } from "../../wire/rdm/commands.ts";
import { type FixtureReading, readFixture } from "../../wire/rdm/fixture.ts";
import { Inquiry, readIdentity } from "../../wire/rdm/identity.ts";
import { statusText } from "../../wire/rdm/status.ts";
import { complain, deliver, EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import { type AskedFixture, type RdmWhere, saysYes, withFixtureCalled } from "./rdm-find.ts";
import { IT_MAY_MOVE, inTalk } from "./survey.ts";

/** Lets one fixture show itself until ENTER, after a yes. */
export const identifyOne = (name: string, where: RdmWhere): Promise<ExitCode> =>
  withFixtureCalled(name, where, async ({ serial, uid, door }) => {
    print(IT_MAY_MOVE);
    if (!(await saysYes(`Let ${safeText(serial)} show itself?`))) return nothingDone();
    const trouble = await inTalk(door, identify(uid, "on"));
    if (trouble !== undefined) return failed(trouble);
    const lines = typedLines();
    lines.say(`${safeText(serial)} shows itself. ENTER ends it.`);
    await lines.next();
    lines.close();
    const still = await inTalk(door, identify(uid, "off"));
    return still === undefined ? EXIT.done : failed(still);
  });

/**
 * Lists a fixture's own tests, or begins one after a yes and says what the fixture reports afterwards. `number` is the
 * number that the fixture gives the test, 1 to 255; undefined lists them.
 */
export const selfTest = (name: string, number: number | undefined, where: RdmWhere): Promise<ExitCode> =>
  withFixtureCalled(name, where, async (fixture) => {
    const before = await inTalk(fixture.door, readFixture(fixture.uid));
    if (typeof before === "string") return failed(before);
    const test = before.selfTests.find((one) => one.number === number);
    return test ? runTest(fixture, test) : listTests(fixture, before.selfTests, number);
  });

type OwnTest = FixtureReading["selfTests"][number];

const listTests = ({ serial }: AskedFixture, tests: readonly OwnTest[], wanted: number | undefined): ExitCode => {
  for (const { number, words } of tests) print(safeText(`  ${number}  ${words}`));
  if (tests.length === 0) print(`${safeText(serial)} has no tests of its own.`);
  return wanted === undefined ? EXIT.done : failed(`there is no test ${wanted}`);
};

const runTest = async ({ serial, uid, door }: AskedFixture, { number, words }: OwnTest): Promise<ExitCode> => {
  print(IT_MAY_MOVE);
  if (!(await saysYes(`Let ${safeText(serial)} begin its test ${number}, ${safeText(words)}?`))) return nothingDone();
  const trouble = await inTalk(door, beginSelfTest(uid, number));
  if (trouble !== undefined) return failed(trouble);
  const end = await inTalk(door, awaitSelfTest(uid));
  print(ENDS[end] ?? safeText(end));
  const after = await inTalk(door, readFixture(uid));
  return typeof after === "string" ? failed(after) : tellReports(after);
};

const tellReports = ({ sensors, status, slots }: FixtureReading): ExitCode => {
  const names = sensors.map(({ name }) => name);
  for (const one of status) print(safeText(`  - ${statusText(one, slots, names)}`));
  if (status.length === 0)
    print("It reports nothing wrong. A fixture cannot report what it does not measure: watch it too.");
  return EXIT.done;
};

const ENDS: Readonly<Record<string, string>> = {
  over: "The test is over.",
  "still running": "It still runs after two minutes.",
  "not said": "It does not say whether the test is over.",
};

/** Makes a draft of a profile from what a fixture says of its slots. */
export const profileFromFixture = (name: string, out: string | undefined, where: RdmWhere): Promise<ExitCode> =>
  withFixtureCalled(name, where, async ({ serial, uid, door }) => {
    const identity = await inTalk(door, readIdentity(uid));
    if (typeof identity === "string") return failed(identity);
    const described = await inTalk(door, readSlots(new Inquiry(uid)));
    if (typeof described === "string") return failed(described);
    const fixture = identity.model === "" ? serial : identity.model;
    const mode = identity.mode?.name || `mode ${identity.mode?.number ?? 1}`;
    const draft = profileFromSlots(serial, {
      fixture,
      mode,
      slots: identity.mode?.slots ?? described.length,
      described,
    });
    if (!draft.ok) return refuse(draft.problems);
    complain(
      `${draft.value.driven} slots driven, ${draft.value.held} held. Check it against the chart in the manual before it drives anything.`,
    );
    return deliver(draft.value.text, out);
  });

const failed = (words: string): ExitCode => {
  complain(safeText(words));
  return EXIT.world;
};
const nothingDone = (): ExitCode => {
  print("Nothing was done.");
  return EXIT.done;
};
