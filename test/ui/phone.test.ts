import { expect, test } from "vitest";
import type { PhonePage } from "../../src/run/phone/message.ts";
import { PhoneAttendant } from "../../src/ui/phone/attendant.ts";
import { DrivenRack, spots } from "../kit/driven-rack.ts";
import { shippedBench } from "../kit/shipped.ts";

const STEPS = ["{ sweep: Pan, seconds: 2, passes: 2 }", "{ sweep: Tilt, seconds: 2, passes: 2 }"];

/** A phone before a rack of three that asks what was watched; every page has stood long enough to be read. */
const asked = () => {
  const rack = new DrivenRack({ fixtures: spots(3), steps: STEPS }).begin().untilStage("confirming");
  let now = 0;
  const phone = new PhoneAttendant({
    buttons: shippedBench().buttons,
    frame: () => 0,
    spectacle: undefined,
    now: () => now,
  });
  const page = (): PhonePage => {
    phone.show(rack.batch);
    return phone.page()!;
  };
  const touch = (words: RegExp) => {
    const { answers, drawn } = page();
    now += 1000;
    const choice = answers.findIndex((one) => words.test(one.words));
    return phone.hear({ kind: "answer", id: now, at: now, drawn, choice }, now);
  };
  return { page, touch };
};
const question = expect.stringMatching(/^watched:/);

test.each([
  { touched: [/^I watched them/], says: { kind: "confirm", answers: question }, because: "nothing is taken out" },
  { touched: [/^I was not there/], says: { kind: "decline", answers: question }, because: "none of them counts" },
  {
    touched: [/^S2, top, 2: I did not watch it/, /^I watched them, all but S2/],
    says: { kind: "confirm-but", answers: question, members: [1] },
    because: "the answer says itself who is taken out",
  },
  {
    touched: [/^S2, top, 2: I did not watch it/, /^S2, top, 2: I watched it after all/, /^I watched them, nothing/],
    says: { kind: "confirm", answers: question },
    because: "touched again it is back among them",
  },
])("what was watched of several, by phone: $says.kind, $because", ({ touched, says }) => {
  const at = asked();
  expect(touched.map(at.touch).at(-1)).toEqual([says]);
});
