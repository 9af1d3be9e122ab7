import { SerialPort } from "serialport";
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

export type PortList =
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
