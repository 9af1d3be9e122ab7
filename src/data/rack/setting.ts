import type { FunctionId } from "../../domain/trade/functions.ts";
import { cellsOf, type Profile } from "../profile/profile.ts";

/** How the fixture may really be set, when it does not do what it is told. */
export type Setting =
  | { readonly kind: "as-set" }
  /** Listens `offset` slots further on (below 0: before). */
  | { readonly kind: "address"; readonly offset: number }
  | { readonly kind: "swapped-axes" }
  | { readonly kind: "mode"; readonly profile: Profile; readonly offset: number }
  /** Hears nothing: cable, data wires, input, terminator, power. */
  | { readonly kind: "no-data" };

/** Starter values, judgement: how often each turns out to be the reason when nothing or the wrong thing moves. */
const USUAL = {
  asSet: 0.25,
  offByOne: 0.1,
  swapped: 0.06,
  mode: 0.15,
  noData: 0.25,
  address: 0.16,
  modeAndAddress: 0.03,
} as const;
/** How far away another start address is looked for: two fixtures' worth of slots either way. */
const REACH = 64;

export interface Weighted {
  readonly setting: Setting;
  readonly weight: number;
}

/**
 * Every setting in reach, with how usual it is by the judgement above. `address` is the start
 * address that the rack file says, 1 to 512.
 */
export const settings = (otherModes: readonly Profile[], address: number): readonly Weighted[] => {
  const offsets = Array.from({ length: 2 * REACH + 1 }, (_, index) => index - REACH).filter(
    (offset) => offset !== 0 && address + offset >= 1,
  );
  const far = offsets.filter((offset) => Math.abs(offset) > 1);
  return [
    { setting: { kind: "as-set" }, weight: USUAL.asSet },
    { setting: { kind: "no-data" }, weight: USUAL.noData },
    { setting: { kind: "swapped-axes" }, weight: USUAL.swapped },
    ...offsets
      .filter((offset) => Math.abs(offset) === 1)
      .map((offset): Weighted => ({ setting: { kind: "address", offset }, weight: USUAL.offByOne / 2 })),
    ...far.map((offset): Weighted => ({ setting: { kind: "address", offset }, weight: USUAL.address / far.length })),
    ...otherModes.flatMap((other) => [
      { setting: { kind: "mode", profile: other, offset: 0 } as const, weight: USUAL.mode / otherModes.length },
      ...offsets.map(
        (offset): Weighted => ({
          setting: { kind: "mode", profile: other, offset },
          weight: USUAL.modeAndAddress / otherModes.length / offsets.length,
        }),
      ),
    ]),
  ];
};

/** What is seen to move under a setting when a function of the profile is moved a little: only its coarse slot moves then. */
export const predicted = (profile: Profile, setting: Setting, asked: FunctionId): readonly FunctionId[] =>
  moving(profile, setting, asked, ([coarse = 0]) => [coarse]);

/** What is seen to move under a setting when all slots of a function are driven, as in any usual movement. */
export const possible = (profile: Profile, setting: Setting, asked: FunctionId): readonly FunctionId[] =>
  moving(profile, setting, asked, (slots) => slots);

const moving = (
  profile: Profile,
  setting: Setting,
  asked: FunctionId,
  those: (slots: readonly number[]) => readonly number[],
): readonly FunctionId[] => {
  const spec = profile.functions.get(asked);
  const slots = spec ? cellsOf(spec).flatMap(those) : [];
  switch (setting.kind) {
    case "as-set":
      return [asked];
    case "no-data":
      return [];
    case "swapped-axes":
      return [asked === "Pan" ? "Tilt" : asked === "Tilt" ? "Pan" : asked];
    case "address":
      return hearing(profile, slots, setting.offset);
    case "mode":
      return hearing(setting.profile, slots, setting.offset);
  }
};

/** Functions whose coarse slot hears one of these slots; a fine slot alone moves nothing that can be seen. */
const hearing = (heard: Profile, slots: readonly number[], offset: number): readonly FunctionId[] =>
  [...heard.functions]
    .filter(([, spec]) => cellsOf(spec).some(([coarse = 0]) => slots.includes(coarse + offset)))
    .map(([id]) => id);

/** How the fixture is set, as a sentence says it. `address` is the start address that the rack file says, 1 to 512. */
export const settingInWords = (setting: Setting, address: number): string => {
  switch (setting.kind) {
    case "as-set":
      return "address and mode are as they should be";
    case "no-data":
      return "the fixture hears nothing";
    case "swapped-axes":
      return "pan and tilt are swapped in its menu";
    case "address":
      return Math.abs(setting.offset) === 1
        ? `its address is off by one: it stands at ${address + setting.offset}, not ${address}`
        : `it stands at address ${address + setting.offset}, not ${address}`;
    case "mode":
      return `it is in another mode: ${setting.profile.title}${setting.offset === 0 ? "" : `, at address ${address + setting.offset}`}`;
  }
};
