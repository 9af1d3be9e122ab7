import { accessSync, constants, existsSync, readFileSync, statfsSync, statSync } from "node:fs";
import { networkInterfaces, release } from "node:os";
import { basename, dirname } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { isMistake, type Output, outputName, parseOutput } from "../../data/bench/output.ts";
import { problem } from "../../domain/problem/problem.ts";
import { safeLines, safeText } from "../../domain/problem/shown-text.ts";
import { frameClock } from "../../io/clock/clocks.ts";
import { crowdHere, goFirst } from "../../io/clock/crowded.ts";
import { fileLibrary, shippedFile } from "../../io/files/files.ts";
import { listPorts } from "../../io/serial/devices.ts";
import { openTrouble } from "../../io/serial/port.ts";
import { openJournal } from "../../io/store/journal.ts";
import { hasFileModes, SYSTEM_NAMES, systemOf } from "../../io/systems.ts";
import { findSpeaker } from "../../io/voice/speech.ts";
import {
  type AskedFacts,
  type ComputerFacts,
  checkComputer,
  doctorText,
  type JournalFacts,
  type PortFact,
  type PortFacts,
} from "../../reports/doctor.ts";
import { findingInWords } from "../../run/events/journal-finding.ts";
import type { InterfaceReply } from "../../wire/messages.ts";
import { EXIT, type ExitCode, print, refuse } from "../common/output.ts";

export interface DoctorOrder {
  readonly output: string;
  readonly to: string | undefined;
  readonly journal: string;
  readonly json: boolean;
}

/** Says what this computer has and lacks for a run, each with what to do. Sends no levels: nothing moves. */
export const doctor = async ({ output, to, journal, json }: DoctorOrder): Promise<ExitCode> => {
  const named = output === "" ? undefined : parseOutput(output, to);
  if (named !== undefined && isMistake(named)) return refuse([problem(`--${named.about}`, named.message, named.hint)]);
  const checked = checkComputer(await factsOf(named, journal));
  print(
    json
      ? JSON.stringify(checked, undefined, 2)
      : safeLines(doctorText(checked, Math.min(100, process.stdout.columns ?? 80))),
  );
  return checked.some(({ state }) => state === "trouble") ? EXIT.world : EXIT.done;
};

const factsOf = async (output: Output | undefined, journal: string): Promise<ComputerFacts> => ({
  versions: versionsHere(),
  ports: await portsHere(),
  asked: output === undefined ? undefined : await answerOf(output),
  addresses: addressesHere(),
  journal: await journalFacts(journal),
  beat: { ...(await crowdHere(frameClock())), priority: goFirst() },
  speaks: nameOfSpeaker(),
  terminal: terminalHere(),
  files: Object.fromEntries(
    (["profiles", "sequences", "benches", "racks", "shops"] as const).map((kind) => [
      kind,
      fileLibrary().names(kind).length,
    ]),
  ),
});

const versionsHere = (): ComputerFacts["versions"] => {
  const { version, engines } = JSON.parse(readFileSync(shippedFile("package.json"), "utf8"));
  return {
    limber: String(version),
    node: process.version.slice(1),
    needed: String(engines.node).replace(/^\D+/, ""),
    system: `${SYSTEM_NAMES[systemOf(process.platform)]} ${release()}, ${process.arch}`,
  };
};

const portsHere = async (): Promise<PortFacts> => {
  const found = await listPorts();
  if (found.kind === "cannot-list") return { kind: "cannot-list", why: found.missing };
  const ports = found.ports.map(
    async ({ path, serialNumber, usb }): Promise<PortFact> => ({
      path,
      usb: usb === "usb",
      serialNumber,
      forbidden: await forbiddenBy(path),
    }),
  );
  return { kind: "listed", ports: await Promise.all(ports) };
};

/** Where files have no modes, only opening tells, and that could disturb another program. */
const forbiddenBy = async (path: string): Promise<string | undefined> => {
  if (!hasFileModes(systemOf(process.platform))) return undefined;
  try {
    accessSync(path, constants.R_OK | constants.W_OK);
    return undefined;
  } catch {
    return (await openTrouble(path, new Error("permission denied"))).message;
  }
};

/** Many interfaces say nothing of themselves; those that do answer at once, so that only the silent ones are waited for. */
const PATIENCE_MS = 2000;

const answerOf = async (output: Output): Promise<AskedFacts> => {
  const path = outputName(output);
  if (output.kind !== "serial") return { kind: "not-asked", path };
  const { framedLine } = await import("../../io/serial/framed-line.ts");
  const said: string[] = [];
  const { promise: answered, resolve: isAnswered } = answer();
  const line = framedLine(output.path, (reply) => {
    said.push(...replyInWords(reply));
    if (reply.kind === "parameters") isAnswered();
  });
  try {
    await line.open(() => {});
    await Promise.race([answered, wait(PATIENCE_MS, undefined, { ref: false })]);
    return said.length > 0 ? { kind: "answered", path, says: [...new Set(said)] } : { kind: "silent", path };
  } catch (error) {
    return { kind: "cannot-open", path, why: error instanceof Error ? error.message : String(error) };
  } finally {
    await line.close();
  }
};

const answer = () => {
  let resolve = () => {};
  const promise = new Promise<void>((done) => {
    resolve = done;
  });
  return { promise, resolve };
};

const replyInWords = (reply: InterfaceReply): readonly string[] => {
  switch (reply.kind) {
    case "parameters":
      return [
        `firmware ${reply.firmware >> 8}.${reply.firmware & 0xff}`,
        `break ${Math.round(reply.breakTime)} microseconds`,
        `mark ${Math.round(reply.markTime)} microseconds`,
        reply.rate === "fastest" ? "as many packets a second as fit" : `${reply.rate} packets a second`,
      ];
    case "serial-number":
      return [`serial number ${reply.serialNumber.toString(16).padStart(8, "0")}`];
    default:
      return [];
  }
};

const addressesHere = (): ComputerFacts["addresses"] =>
  Object.entries(networkInterfaces()).flatMap(([card, entries]) =>
    (entries ?? [])
      .filter(({ family, internal }) => family === "IPv4" && !internal)
      .map(({ address }) => ({ address, card: safeText(card) })),
  );

const journalFacts = async (file: string): Promise<JournalFacts> => {
  const free = freeBytes(dirname(file));
  if (!existsSync(file)) return { kind: "none", file, free };
  try {
    const { size, mode } = statSync(file);
    const journal = await openJournal(file);
    const { events, findings } = await journal.check({ kind: "all" }, () => {}).finally(() => journal.close());
    const othersMayRead = hasFileModes(systemOf(process.platform)) && (mode & 0o077) !== 0;
    return { kind: "opened", file, bytes: size, free, events, findings: findings.map(findingInWords), othersMayRead };
  } catch (error) {
    return { kind: "cannot-open", file, why: error instanceof Error ? error.message : String(error) };
  }
};

/** The free bytes where a folder is, or the nearest one above it that is there. */
const freeBytes = (folder: string): number | undefined => {
  if (!existsSync(folder)) return dirname(folder) === folder ? undefined : freeBytes(dirname(folder));
  const { bavail, bsize } = statfsSync(folder);
  return bavail * bsize;
};

const nameOfSpeaker = (): string | undefined => {
  const speaker = findSpeaker(process.env["PATH"] ?? "");
  return speaker && basename(speaker.path);
};

const terminalHere = (): ComputerFacts["terminal"] => {
  const { isTTY, columns, rows } = process.stdout;
  const { NO_COLOR, LC_ALL, LC_CTYPE, LANG } = process.env;
  const coloured = isTTY && !NO_COLOR && process.stdout.getColorDepth() > 1;
  return {
    isTerminal: isTTY === true,
    columns: columns ?? 0,
    rows: rows ?? 0,
    coloured,
    // Windows terminals write Unicode whatever the environment says.
    unicode: process.platform === "win32" || /utf-?8/i.test(LC_ALL || LC_CTYPE || LANG || ""),
  };
};

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
