import { networkInterfaces } from "node:os";
import { safeText } from "../../domain/problem/terminal.ts";
import { listPorts } from "../../io/serial/devices.ts";
import { EXIT, type ExitCode, print } from "../common/output.ts";

/** How wide the column of outputs is: room for a port's name. */
const WIDTH = 19;

/** Lists what a DMX line can be put on, or says what is missing to find out. */
export const listOutputs = async (): Promise<ExitCode> => {
  const found = await listPorts();
  line("sim", "the simulated bench, always there");
  line("sacn:UNIVERSE", "over the network with --to ADDRESS or --to multicast");
  line("artnet:UNIVERSE", "over the network with --to ADDRESS");
  print(`${" ".repeat(WIDTH)} ${ownAddresses()}`);
  if (found.kind === "cannot-list") {
    print(`Serial ports cannot be listed: ${found.missing}`);
    return EXIT.world;
  }
  for (const { path, serialNumber, usb } of found.ports)
    line(
      `serial:${path}`,
      `${usb === "usb" ? "on USB" : "built in"}${serialNumber ? `, number ${safeText(serialNumber)}` : ""}`,
    );
  if (found.ports.length > 0)
    line("break:PATH", "the same port as a plain serial adapter, which does not time breaks itself");
  if (found.ports.length === 0) print("No serial port found: is the interface plugged in?");
  return EXIT.done;
};

const line = (output: string, words: string) => print(`${safeText(output).padEnd(WIDTH)} ${words}`);

/** A receiver is reached from an address that begins as its own does. */
const ownAddresses = (): string => {
  const own = Object.entries(networkInterfaces()).flatMap(([name, entries]) =>
    (entries ?? [])
      .filter(({ family, internal }) => family === "IPv4" && !internal)
      .map(({ address }) => `${address} (${safeText(name)})`),
  );
  return own.length > 0 ? `this computer is ${own.join(", ")}` : "this computer is on no network just now";
};
