import { safeText } from "../problem/terminal.ts";
import { listPorts } from "../serial/list.ts";
import { EXIT, type ExitCode } from "./exit.ts";
import { print } from "./print.ts";

/** Lists what a DMX line can be put on, or says what is missing to find out. */
export const listOutputs = async (): Promise<ExitCode> => {
  const found = await listPorts();
  print("sim             the simulated bench, always there");
  if (found.kind === "cannot-list") {
    print(`Serial ports cannot be listed: ${found.missing}`);
    return EXIT.world;
  }
  for (const { path, serialNumber, usb } of found.ports)
    print(
      `${safeText(`serial:${path}`).padEnd(15)} ${usb === "usb" ? "on USB" : "built in"}${serialNumber ? `, number ${safeText(serialNumber)}` : ""}`,
    );
  if (found.ports.length === 0) print("No serial port found: is the interface plugged in?");
  return EXIT.done;
};
