import { z } from "zod";
import { text } from "./text.ts";

/**
 * Which interface carries a universe, as far as it can be told. It is kept with the run, so that another one that is
 * plugged in under the same name is noticed before it is sent anything.
 */
const identity = {
  /** The number that the interface says itself, by its own message; empty when it says none. */
  number: text,
  /** Vendor, product and serial number on USB, as the system tells them; empty when it tells none. */
  usb: text,
};

const interfaceMet = z.strictObject({
  kind: z.literal("interface-met"),
  universe: z.int().positive(),
  identity: z.strictObject(identity),
});

export const INTERFACE_BODIES = [interfaceMet] as const;
export type InterfaceIdentity = z.infer<typeof interfaceMet>["identity"];

/** Nothing is known of the interface. */
export const NAMELESS: InterfaceIdentity = { number: "", usb: "" };

/** Whether both say the same of themselves, by number and on USB. */
export const isSameIdentity = (one: InterfaceIdentity | undefined, other: InterfaceIdentity): boolean =>
  one?.number === other.number && one.usb === other.usb;

/**
 * Why this may not be the interface that was used before, in words; undefined where nothing speaks against it. An
 * interface that said its number and says none now is asked about, one that never said anything cannot be told apart.
 */
export const strangeness = (known: InterfaceIdentity, met: InterfaceIdentity): string | undefined => {
  if (known.usb !== "" && met.usb !== "" && known.usb !== met.usb)
    return `on USB it is ${met.usb}; the one before was ${known.usb}`;
  if (known.number !== "" && known.number !== met.number)
    return met.number === ""
      ? `it does not say its number; the one before was number ${known.number}`
      : `it says it is number ${met.number}; the one before was number ${known.number}`;
  if (known.number === "" && known.usb !== "" && met.usb === "")
    return `the system does not say what it is; the one before was ${known.usb}`;
  return undefined;
};
