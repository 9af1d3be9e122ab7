import { SerialPort } from "serialport";

/** A serial port of this computer. */
export interface FoundPort {
  /** What to write after "serial:". */
  readonly path: string;
  /** Tells two interfaces of one kind apart; many have none. */
  readonly serialNumber: string | undefined;
  /** On USB, as interfaces are; the others are built in. */
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
  const isMissing = cause instanceof Error && "code" in cause && cause.code === "ENOENT";
  return isMissing
    ? "the program udevadm (package udev) is not installed; the port still works when named, such as serial:/dev/ttyUSB0"
    : `this computer does not list its ports: ${String(cause)}`;
};
