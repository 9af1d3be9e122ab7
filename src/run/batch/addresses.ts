import { andThen, stay, withEffects } from "../machine/running.ts";

import type { Timed } from "../session/input.ts";
import { beginAlone } from "./alone.ts";
import type { Batch, RackStage } from "./batch.ts";
import { memberAt } from "./batch.ts";
import { type RackChange, write } from "./change.ts";
import type { RackInput } from "./input.ts";

type OwnAddress = Extract<RackStage, { kind: "own-address" }>;

/** Whether other fixtures would do the same as this one. `index` is its place in the rack, from 0. */
export const sharesAddress = (batch: Batch, index: number): boolean => {
  const { spot } = memberAt(batch, index);
  return batch.members.some(
    (other, at) =>
      at !== index &&
      other.state === "here" &&
      other.spot.universe === spot.universe &&
      other.spot.address === spot.address,
  );
};

/** A start address on its universe where it would overlap nobody; undefined when the universe is full. */
const freeAddress = (batch: Batch, index: number): number | undefined => {
  const { spot } = memberAt(batch, index);
  const { slots } = spot.profile;
  const others = batch.members.map((member) => member.spot).filter(({ universe }) => universe === spot.universe);
  const ends = others.map(({ address, profile }) => address + profile.slots).sort((a, b) => a - b);
  return ends.find(
    (address) =>
      address + slots - 1 <= 512 &&
      others.every((one) => one.address >= address + slots || one.address + one.profile.slots <= address),
  );
};

/** Asks for an address of its own for a fixture that shares one. `member` is its index in the rack, from 0. */
export const tellApart = (batch: Batch, member: number): RackChange =>
  stay({ ...batch, stage: { kind: "own-address", member, free: freeAddress(batch, member) } });

/** Takes that a fixture was set to its own address at its panel, or is the only one left with data: now it moves alone. */
export const toldApart = (batch: Batch, { member, free }: OwnAddress, input: Timed<RackInput>): RackChange => {
  if (input.kind !== "told-apart") return stay(batch);
  if (input.how === "others-unplugged" || free === undefined) return beginAlone(batch, member);
  const { serial, run, spot } = memberAt(batch, member);
  const members = batch.members.map((one, at) => (at === member ? { ...one, spot: { ...spot, address: free } } : one));
  return andThen(
    write({ ...batch, members }, { kind: "address-set", serial, run, universe: spot.universe, address: free }),
    (b) =>
      andThen(withEffects(b, { kind: "by-hand", deed: { kind: "address-set", serial, address: free } }), (told) =>
        beginAlone(told, member),
      ),
  );
};
