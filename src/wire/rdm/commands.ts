import { ask, put, troubleWith } from "./ask.ts";
import type { Dialogue } from "./dialogue.ts";
import type { FixtureReading } from "./fixture.ts";
import type { Inquiry } from "./identity.ts";
import type { Uid } from "./packet.ts";
import { PARAMETERS } from "./parameters.ts";
import { statusText } from "./status.ts";

/** What a fixture does when it is told to, over RDM: it may light up and move. */

/** Tells a fixture to show itself, or to stop showing itself; undefined when it took it, else why not. */
export function* identify(uid: Uid, is: "on" | "off"): Dialogue<string | undefined> {
  return troubleWith(PARAMETERS.IDENTIFY_DEVICE, yield* put(uid, PARAMETERS.IDENTIFY_DEVICE, is === "on"));
}

/**
 * Begins one of a fixture's own tests; undefined when it took it, else why not. `test` is the number that
 * the fixture gives the test, 1 to 255.
 */
export function* beginSelfTest(uid: Uid, test: number): Dialogue<string | undefined> {
  return troubleWith(PARAMETERS.PERFORM_SELFTEST, yield* put(uid, PARAMETERS.PERFORM_SELFTEST, test));
}

/**
 * Tells a fixture to stop the test that runs: test number 0 (ANSI E1.20, secondary);
 * undefined when it took it, else why not.
 */
export function* stopSelfTest(uid: Uid): Dialogue<string | undefined> {
  return troubleWith(PARAMETERS.PERFORM_SELFTEST, yield* put(uid, PARAMETERS.PERFORM_SELFTEST, 0));
}

/** Whether one of a fixture's own tests runs just now; undefined where it does not say. */
export function* isTestingItself(uid: Uid): Dialogue<boolean | undefined> {
  const running = yield* ask(uid, PARAMETERS.PERFORM_SELFTEST, undefined);
  return running.kind === "value" ? running.value : undefined;
}

/** How a self-test ended. */
export type SelfTestEnd = "over" | "still running" | "not said";

const MOST_LOOKS = 120;
/** Waits until none of a fixture's own tests runs any more, looking once a second, two minutes at most. */
export function* awaitSelfTest(uid: Uid): Dialogue<SelfTestEnd> {
  for (let look = 0; look < MOST_LOOKS; look += 1) {
    yield { kind: "pause", time: 1 };
    const running = yield* isTestingItself(uid);
    if (running === undefined) return "not said";
    if (!running) return "over";
  }
  return "still running";
}

/**
 * What a fixture reports when its own test is over: "its own test is over; it reports: error: index error, slot 9
 * (rotating gobo)". `after` is undefined where it did not answer; `messagesBefore` is how many messages it had before the test.
 */
export const selfTestReport = (after: FixtureReading | undefined, messagesBefore: number): string => {
  if (!after) return "its own test is over; it did not answer afterwards";
  const names = after.sensors.map(({ name }) => name);
  const reports = after.status.map((one) => statusText(one, after.slots, names));
  if (reports.length > 0) return `its own test is over; it reports: ${reports.join("; ")}`;
  return `its own test is over; it reports nothing${messagesBefore > 0 ? " any more" : ""}`;
};

/** What a fixture says of each of its slots, for a draft of a profile. */
export interface SlotWords {
  readonly offset: number;
  readonly type: number;
  readonly label: number;
  readonly words: string | undefined;
  readonly usual: number | undefined;
}

/** Reads what every slot is for (SLOT_INFO), then where a fixture has them each slot's own words and its default. */
export function* readSlots(inquiry: Inquiry): Dialogue<readonly SlotWords[]> {
  const slots = (yield* inquiry.read(PARAMETERS.SLOT_INFO, undefined)) ?? [];
  const usual = (yield* inquiry.read(PARAMETERS.DEFAULT_SLOT_VALUE, undefined)) ?? [];
  const told: SlotWords[] = [];
  let describes = true;
  for (const slot of slots) {
    const before = inquiry.troubles.length;
    const said: { readonly text: string } | undefined = describes
      ? yield* inquiry.read(PARAMETERS.SLOT_DESCRIPTION, slot.offset)
      : undefined;
    // A refused slot is no trouble; one that describes none is not asked for all the others.
    inquiry.troubles.length = before;
    describes &&= said !== undefined;
    told.push({ ...slot, words: said?.text, usual: usual.find(({ offset }) => offset === slot.offset)?.value });
  }
  return told;
}
