import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parseProfile } from "../../../src/data/profile/parse.ts";
import type { Profile } from "../../../src/data/profile/profile.ts";
import { edited } from "../../../src/domain/problem/edit.ts";
import type { FunctionId } from "../../../src/domain/trade/functions.ts";
import { editsFor, type ProfileChange, slotsAfter } from "../../../src/run/verification/change.ts";
import { foundInWords, mend } from "../../../src/run/verification/mend.ts";
import { contradictions, type SlotMap, type SlotMoved, slotsOf } from "../../../src/run/verification/steps.ts";
import { must, shippedProfile, shippedText } from "../../kit/shipped.ts";

const spot = shippedProfile("spot-16bit");
const short = shippedProfile("spot-8bit");

/** What somebody sees at a fixture that is really built so, when every function of the profile is asked to move. */
const seenAt = (profile: Profile, real: SlotMap): readonly SlotMoved[] =>
  [...profile.functions].flatMap(([asked, { kind, slots }]) => {
    if (kind === "commands") return [];
    const moved = [...real].find(([, own]) => own[0] === slots[0])?.[0] ?? "nothing";
    return [{ asked, moved }];
  });
const seenWhen = (change: ProfileChange) => seenAt(spot, slotsAfter(slotsOf(spot), change));

test("a fixture that does what it is told leaves nothing to change", () => {
  expect(mend(spot, [short], 1, seenAt(spot, slotsOf(spot)))).toEqual({ kind: "as-told" });
});

describe("one slip is found for what it is", () => {
  test.each<{ slip: ProfileChange; because: string }>([
    { slip: { kind: "fine-first", function: "Pan" }, because: "only pan does not move" },
    { slip: { kind: "fine-first", function: "Zoom" }, because: "only zoom does not move" },
    { slip: { kind: "exchanged", one: "ColorSub_C", other: "ColorSub_M" }, because: "two move for each other" },
    { slip: { kind: "exchanged", one: "Pan", other: "Tilt" }, because: "the axes move for each other" },
    { slip: { kind: "shifted", from: 11, by: 1 }, because: "from one slot on each moves what is before it" },
    { slip: { kind: "shifted", from: 7, by: -1 }, because: "from one slot on each moves what is behind it" },
    { slip: { kind: "shifted", from: 13, by: 2 }, because: "two lines were left out" },
  ])("$slip.kind: $because", ({ slip }) => {
    expect(mend(spot, [short], 1, seenWhen(slip))).toEqual({ kind: "changes", changes: [slip] });
  });
});

test("two slips at once are found together", () => {
  const slips: readonly ProfileChange[] = [
    { kind: "fine-first", function: "Pan" },
    { kind: "exchanged", one: "ColorSub_C", other: "ColorSub_Y" },
  ];
  const found = mend(spot, [short], 1, seenAt(spot, slips.reduce(slotsAfter, slotsOf(spot))));
  expect(found.kind === "changes" && [...found.changes].sort((a, b) => b.kind.localeCompare(a.kind))).toEqual(slips);
});

test.each([
  {
    real: new Map([...slotsOf(spot)].map(([id, slots]) => [id, slots.map((slot) => slot + 6)])),
    says: "it stands at address 107, not 101",
  },
  { real: slotsOf(short), says: "it is in another mode: Spot, 8-bit mode, 20 slots" },
])("not the profile: $says", ({ real, says }) => {
  const found = mend(spot, [short], 101, seenAt(spot, real));
  expect(found).toMatchObject({ kind: "setting" });
  expect(foundInWords(found).join(" ")).toContain(says);
});

test("when nothing moves at all the data is to be looked at, not the chart", () => {
  const found = mend(spot, [short], 1, seenAt(spot, new Map()));
  expect(found).toEqual({ kind: "silent" });
  expect(foundInWords(found).join(" ")).toContain("Is the data light on the fixture lit?");
});

test("what goes with nothing is said to, with what is left over", () => {
  const odd: readonly SlotMoved[] = seenAt(spot, slotsOf(spot)).map((one) =>
    one.asked === "Iris"
      ? { asked: "Iris", moved: "Frost1" }
      : one.asked === "Gobo1"
        ? { asked: "Gobo1", moved: "Pan" }
        : one,
  );
  const found = mend(spot, [short], 1, odd);
  expect(found.kind).toBe("unclear");
  expect(foundInWords(found).join(" ")).toContain("look at the chart again");
});

const slipOn = (profile: Profile): fc.Arbitrary<ProfileChange> => {
  const ids = [...profile.functions.keys()].filter((id) => id !== "Control1");
  const pairs = fc.uniqueArray(fc.constantFrom(...ids), { minLength: 2, maxLength: 2 });
  return fc.oneof(
    fc.constantFrom(...ids).map((id): ProfileChange => ({ kind: "fine-first", function: id })),
    pairs.map(
      ([one, other]): ProfileChange => ({ kind: "exchanged", one: one as FunctionId, other: other as FunctionId }),
    ),
    fc
      .record({ from: fc.integer({ min: 2, max: 12 }), by: fc.constantFrom(1, -1) })
      .map((shift): ProfileChange => ({ kind: "shifted", ...shift })),
  );
};

test("whatever the slip, the profile put right goes with everything that was seen, and nothing in the file but slots has changed", () => {
  const names = ["spot-16bit", "wash", "hybrid", "scanner", "framing-basic"];
  fc.assert(
    fc.property(
      fc.constantFrom(...names).chain((name) => slipOn(shippedProfile(name)).map((slip) => ({ name, slip }))),
      ({ name, slip }) => {
        const profile = shippedProfile(name);
        const text = shippedText(`profiles/${name}.yaml`);
        const answers = seenAt(profile, slotsAfter(slotsOf(profile), slip));
        const found = mend(profile, [], 1, answers);
        fc.pre(found.kind === "changes");
        let now = { text, profile };
        for (const change of found.kind === "changes" ? found.changes : []) {
          const next = edited(now.text, editsFor(now.profile, change));
          const read = parseProfile(`${name}.yaml`, next);
          fc.pre(read.ok);
          now = { text: next, profile: must(read) };
        }
        expect(contradictions(slotsOf(profile), slotsOf(now.profile), answers)).toBe(0);
        const withoutSlots = (one: string) => one.replaceAll(/slots: (?:\[[\d, ]+\]|\d+)/g, "slots");
        expect(withoutSlots(now.text)).toBe(withoutSlots(text));
      },
    ),
    { numRuns: 150 },
  );
});
