import { expect, test } from "vitest";
import { DrivenRack } from "../../kit/driven-rack.ts";

const PAN = "{ sweep: Pan, seconds: 3, passes: 2 }";
const ganged = (count: number) =>
  Array.from(
    { length: count },
    (_, n) =>
      `{ serial: G${n + 1}, profile: spot-16bit, shelf: top, place: "${n + 1}", universe: 1, address: 1, ganged: true }`,
  );
/** Pressed for one of them, up to the question how it is to be told apart. */
const apart = (count = 3) => {
  const rack = new DrivenRack({ fixtures: ganged(count), steps: [PAN] }).begin().untilStage("moving");
  return rack.differs("G2").untilStage("own-address");
};

test("all ganged ones move as one; only a pressed one is told apart from them", () => {
  const rack = apart();
  expect(rack.batch.stage).toMatchObject({ member: 1, free: 31 });
});

test("by its panel it gets the first address that overlaps nobody, and keeps it", () => {
  const rack = apart().send({ kind: "told-apart", how: "own-address" });
  expect(rack.batch.members.map(({ spot }) => spot.address)).toEqual([1, 31, 1]);
  // Somebody was at its panel: the area is asked about first.
  expect(rack.batch.members[1]?.session.stage).toMatchObject({ kind: "holding", point: "before-moving" });
  rack.send({ kind: "confirm" });
  expect(rack.movers()).toEqual(["G2"]);
  expect(rack.batch.record.addresses.get("G2")).toEqual({ universe: 1, address: 31 });
});

test("or the data of all others is unplugged, and the address stays", () => {
  const rack = apart().send({ kind: "told-apart", how: "others-unplugged" });
  expect(rack.batch.stage).toEqual({ kind: "alone", member: 1 });
  expect(rack.batch.members.map(({ spot }) => spot.address)).toEqual([1, 1, 1]);
});

test("after the next one was told apart, with hands at cables or a panel, the area is asked about again", () => {
  const both = new DrivenRack({ fixtures: ganged(3), steps: [PAN] }).begin().untilStage("moving");
  const rack = both.differs("G2").differs("G3").untilStage("own-address");
  rack.send({ kind: "told-apart", how: "others-unplugged" }).send({ kind: "confirm" });
  rack.until(({ stage }) => stage.kind === "own-address" && stage.member === 2);
  rack.send({ kind: "told-apart", how: "others-unplugged" });
  expect(rack.batch.stage).toEqual({ kind: "alone", member: 2 });
  expect(rack.batch.members[2]?.session.stage).toMatchObject({ kind: "holding", point: "before-moving" });
});

test("an address of its own never overlaps somebody else's, and with no room left there is only unplugging", () => {
  const other = '{ serial: X, profile: spot-16bit, shelf: low, place: "1", universe: 1, address: 50 }';
  const crowded = new DrivenRack({ fixtures: [...ganged(2), other], steps: [PAN] }).begin().untilStage("moving");
  expect(crowded.differs("G1").untilStage("own-address").batch.stage).toMatchObject({ free: 80 });
  const last = '{ serial: Y, profile: spot-16bit, shelf: low, place: "2", universe: 1, address: 481 }';
  const holes = [31, 61, 91, 121, 151, 181, 211, 241, 271, 301, 331, 361, 391, 421, 451].map(
    (address) =>
      `{ serial: H${address}, profile: spot-16bit, shelf: low, place: "${address}", universe: 1, address: ${address} }`,
  );
  const full = new DrivenRack({ fixtures: [...ganged(2), ...holes, last], steps: [PAN] }).begin().untilStage("moving");
  full.differs("G1").untilStage("own-address");
  expect(full.batch.stage).toMatchObject({ free: undefined });
  expect(full.send({ kind: "told-apart", how: "own-address" }).batch.members[0]?.spot.address).toBe(1);
});
