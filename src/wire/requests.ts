import { encode, LABELS } from "./message.ts";

/** Start code 0 says: these are levels (ANSI E1.11). */
const START_CODE = 0x00;
/** Label 6 takes 25 to 513 bytes, start code included. */
const FEWEST_SLOTS = 24;
const MOST_SLOTS = 512;

/** Hands 24 to 512 levels to the interface, slot 1 first; it repeats them on the DMX line by itself until the next. */
export const levelsMessage = (levels: Uint8Array): Uint8Array => {
  if (levels.length < FEWEST_SLOTS || levels.length > MOST_SLOTS)
    throw new RangeError(`Bug: ${levels.length} slots in a packet`);
  const payload = new Uint8Array(1 + levels.length);
  payload[0] = START_CODE;
  payload.set(levels, 1);
  return encode({ label: LABELS.levels, payload });
};

/** Asks for firmware, break, mark and rate, and for none of the user's own bytes. An interface that does not know it stays silent. */
export const parametersRequest = (): Uint8Array => encode({ label: LABELS.parameters, payload: new Uint8Array(2) });

/** Asks for the interface's serial number. */
export const serialNumberRequest = (): Uint8Array => encode({ label: LABELS.serialNumber, payload: new Uint8Array(0) });

/**
 * Hands one RDM packet to the interface, which sends it and listens for the answer. A search is told apart, since its
 * answers come without a break.
 */
export const rdmMessage = (packet: Uint8Array, answered: "by-one" | "by-any" | "by-nobody"): Uint8Array =>
  encode({ label: answered === "by-any" ? LABELS.rdmSearch : LABELS.rdm, payload: packet });
