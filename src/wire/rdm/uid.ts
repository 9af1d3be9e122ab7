/**
 * Who somebody is on the cable (ANSI E1.20): 16 bits of manufacturer, 32 bits of device, as one whole number of 48 bits,
 * which a double holds exactly.
 */
export type Uid = number & { readonly unit?: "uid" };

/** Everybody. No request to it is answered, except the search. */
export const EVERYBODY: Uid = 0xffff_ffff_ffff;
/** The last one that a search must cover; the one above it means everybody. */
export const LAST_UID: Uid = EVERYBODY - 1;
/** Who Limber is: a manufacturer number kept for prototypes (0x7FF0 to 0x7FFF, from memory). */
export const OUR_UID: Uid = 0x7ff0_4c49_4d42;
const UID_BYTES = 6;

const DEVICES = 2 ** 32;
const EVERY_DEVICE = DEVICES - 1;

/** A UID as the standard writes it: "7FF0:00000002". */
export const uidText = (uid: Uid): string => `${hex(manufacturerOf(uid), 4)}:${hex(uid % DEVICES, 8)}`;

/** The number behind "7ff0:00000002"; undefined for anything else. */
export const uidIn = (text: string): Uid | undefined => {
  const [, manufacturer, device] = /^([0-9a-f]{4}):?([0-9a-f]{8})$/i.exec(text.trim()) ?? [];
  if (manufacturer === undefined || device === undefined) return undefined;
  return Number.parseInt(manufacturer, 16) * DEVICES + Number.parseInt(device, 16);
};

const manufacturerOf = (uid: Uid): number => Math.floor(uid / DEVICES);

/** Whether a UID means everybody, or everybody of one manufacturer. */
export const isBroadcast = (uid: Uid): boolean => uid % DEVICES === EVERY_DEVICE;

/** The six bytes of a UID, 0 to 255 each, highest first. */
export const uidBytes = (uid: Uid): readonly number[] =>
  Array.from({ length: UID_BYTES }, (_, index) => Math.floor(uid / 256 ** (UID_BYTES - 1 - index)) % 256);

/** The UID in the six bytes that begin at index `at`, from 0; bytes that are missing count as 0. */
export const uidAt = (bytes: Uint8Array, at: number): Uid =>
  bytes.subarray(at, at + UID_BYTES).reduce((uid, byte) => uid * 256 + byte, 0);

const hex = (value: number, digits: number) => value.toString(16).toUpperCase().padStart(digits, "0");
