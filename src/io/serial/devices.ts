import { realpath } from "node:fs/promises";
import { SerialPort } from "serialport";
import { type InterfaceIdentity, NAMELESS, strangeness } from "../../run/events/interface-met.ts";
import { type Meeting, StrangerError } from "../../run/ports.ts";
import { cannotListPorts, systemOf } from "../systems.ts";

/** A serial port of this computer. */
interface FoundPort {
  /** What to write after "serial:". */
  readonly path: string;
  /** Tells two interfaces of one kind apart; many have none. */
  readonly serialNumber: string | undefined;
  /** Whether a port is on USB, as interfaces are, or built in. */
  readonly usb: "usb" | "built-in";
}

type PortList =
  | { readonly kind: "ports"; readonly ports: readonly FoundPort[] }
  | { readonly kind: "cannot-list"; readonly missing: string };

/** The serial ports, those on USB first, or what this computer lacks to list them. Never rejects. */
export const listPorts = async (): Promise<PortList> => {
  try {
    const found = (await SerialPort.list()).map(
      ({ path, serialNumber, vendorId }): FoundPort => ({
        path,
        serialNumber,
        usb: vendorId === undefined ? "built-in" : "usb",
      }),
    );
    return { kind: "ports", ports: [...found.filter(onUsb), ...found.filter((port) => !onUsb(port))] };
  } catch (cause) {
    return { kind: "cannot-list", missing: missingFor(cause) };
  }
};

const onUsb = ({ usb }: FoundPort) => usb === "usb";

const missingFor = (cause: unknown): string => {
  const code = cause instanceof Error && "code" in cause ? String(cause.code) : undefined;
  return cannotListPorts(code, systemOf(process.platform)) ?? `this computer does not list its ports: ${String(cause)}`;
};

/** A port that was plugged in a moment ago is listed a little later than it can be opened. */
const LISTED_LATER = { tries: 5, everyMs: 100 } as const;

/**
 * Asks the system which device on USB stands behind a path, before a single byte is sent there. Rejects with
 * StrangerError where it is another than the one before. Empty where the system tells nothing, or no USB is in between.
 */
export const meetOnUsb = async (path: string, { known = NAMELESS }: Meeting): Promise<string> => {
  let usb = await usbOf(path);
  for (let tries = 1; usb === "" && known.usb !== "" && tries < LISTED_LATER.tries; tries += 1) {
    await new Promise((resolve) => setTimeout(resolve, LISTED_LATER.everyMs));
    usb = await usbOf(path);
  }
  if (usb !== "" && known.usb !== "") refuseStranger(path, known, { number: known.number, usb });
  return usb;
};

/**
 * Tells `meeting` of an interface, where anything could be told of it. Throws StrangerError
 * where it is another than the one before.
 */
export const introduce = (path: string, { known = NAMELESS, met }: Meeting, identity: InterfaceIdentity): void => {
  refuseStranger(path, known, identity);
  if (identity.number !== "" || identity.usb !== "") met(identity);
};

const refuseStranger = (path: string, known: InterfaceIdentity, identity: InterfaceIdentity): void => {
  const words = strangeness(known, identity);
  if (words !== undefined) throw new StrangerError(identity, `the interface on ${path} may be another: ${words}`);
};

/** "0403:6001 A1B2C3": vendor, product, serial number. A path may be a link to the port's own name. */
const usbOf = async (path: string): Promise<string> => {
  const [ports, real] = await Promise.all([SerialPort.list().catch(() => []), realpath(path).catch(() => path)]);
  const found = ports.find((port) => port.path === path || port.path === real);
  if (found?.vendorId === undefined) return "";
  return [`${found.vendorId}:${found.productId ?? ""}`, found.serialNumber ?? ""].join(" ").trim();
};
