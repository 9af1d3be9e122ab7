import { chmodSync, existsSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test, vi } from "vitest";
import { findSpeaker, speech } from "../../../src/io/voice/speech.ts";

/**
 * A folder with speech programs of our own making: each writes its arguments and its standard input into a file, one
 * JSON line for each time it is run.
 */
const folderWith = (programs: Readonly<Record<string, string>>): string => {
  const folder = mkdtempSync(join(tmpdir(), "limber-voice-"));
  for (const [name, body] of Object.entries(programs)) {
    writeFileSync(
      join(folder, name),
      `#!${process.execPath}\nconst heard = ${JSON.stringify(join(folder, "heard"))};\n${body}`,
    );
    chmodSync(join(folder, name), 0o755);
  }
  return folder;
};
/** Starting a program takes as long as it takes. */
const SOON = { timeout: 20_000 };
const WRITES_DOWN = `
const { appendFileSync, readFileSync } = require("node:fs");
const input = process.argv.includes("--cancel") || process.argv.includes("--") ? "" : readFileSync(0, "utf8");
appendFileSync(heard, JSON.stringify([process.argv.slice(2), input]) + "\\n");
`;
const heardIn = (folder: string): readonly unknown[] => {
  const file = join(folder, "heard");
  return existsSync(file)
    ? readFileSync(file, "utf8")
        .trim()
        .split("\n")
        .map((line) => JSON.parse(line))
    : [];
};

const voiceIn = (folder: string, more: Partial<Parameters<typeof speech>[0]> = {}) => {
  const written: string[] = [];
  const troubles: string[] = [];
  const stdout = { write: (text: string) => written.push(text) > 0 };
  const voice = speech({
    speaks: true,
    rings: false,
    stdout: stdout as never,
    trouble: (words) => troubles.push(words),
    path: folder,
    ...more,
  });
  return { voice, written, troubles };
};

test("the text goes to the program's standard input, so that it can be no option and no command", async () => {
  const folder = folderWith({ "espeak-ng": WRITES_DOWN });
  const { voice, troubles } = voiceIn(folder);
  voice.say(`--help; touch ${folder}/broken $(reboot)`);
  await vi.waitFor(
    () => expect(heardIn(folder)).toEqual([[["--stdin"], `--help; touch ${folder}/broken $(reboot)`]]),
    SOON,
  );
  expect(existsSync(join(folder, "broken"))).toBe(false);
  expect(troubles).toEqual([]);
});

test("where the program takes the text as an argument it stands behind the end of the options", async () => {
  const folder = folderWith({ "spd-say": WRITES_DOWN });
  const { voice } = voiceIn(folder);
  voice.say("--cancel");
  await vi.waitFor(() => expect(heardIn(folder)).toEqual([[["--wait", "--", "--cancel"], ""]]), SOON);
});

test("control characters are spoken as what they are, and never reach the program", async () => {
  const folder = folderWith({ say: WRITES_DOWN });
  voiceIn(folder).voice.say("pan\u001b[2J\u0007 sweep");
  await vi.waitFor(() => expect(heardIn(folder)).toEqual([[["-f", "-"], "pan\\u001b[2J\\u0007 sweep"]]), SOON);
});

test("newer speech cuts off older, and that is no trouble", async () => {
  const folder = folderWith({ "espeak-ng": `${WRITES_DOWN}if (input === "first") setInterval(() => {}, 1000);` });
  const { voice, troubles } = voiceIn(folder);
  voice.say("first");
  await vi.waitFor(() => expect(heardIn(folder)).toHaveLength(1), SOON);
  const first = (voice as unknown as { speaking: { exitCode: number | null; signalCode: string | null } }).speaking;
  voice.say("second");
  await vi.waitFor(() => expect(heardIn(folder)).toHaveLength(2), SOON);
  await vi.waitFor(() => expect(first.signalCode).toBe("SIGTERM"), SOON);
  expect(troubles).toEqual([]);
});

test("the end of what was cut off is not taken for the end of what came after", async () => {
  const folder = folderWith({ "espeak-ng": `${WRITES_DOWN}if (input !== "third") setInterval(() => {}, 1000);` });
  const { voice } = voiceIn(folder);
  const speaking = () => (voice as unknown as { speaking: { signalCode: string | null } }).speaking;
  voice.say("first");
  const first = speaking();
  voice.say("second");
  const second = speaking();
  await vi.waitFor(() => expect(first.signalCode).toBe("SIGTERM"), SOON);
  voice.say("third");
  await vi.waitFor(() => expect(second.signalCode).toBe("SIGTERM"), SOON);
});

test("a speech daemon is told to be quiet as well", async () => {
  const folder = folderWith({
    "spd-say": `${WRITES_DOWN}if (process.argv.includes("first")) setInterval(() => {}, 1000);`,
  });
  const { voice } = voiceIn(folder);
  voice.say("first");
  await vi.waitFor(() => expect(heardIn(folder)).toHaveLength(1), SOON);
  voice.close();
  await vi.waitFor(() => expect(heardIn(folder)).toContainEqual([["--cancel"], ""]), SOON);
});

test("without a speech program that is said once, and then it is silent", () => {
  const { voice, troubles, written } = voiceIn(folderWith({}), { rings: true });
  voice.say("one");
  voice.say("two");
  expect(troubles).toEqual(["No speech program found (espeak-ng, spd-say or say): nothing is said aloud."]);
  expect(written).toEqual(["\u0007", "\u0007"]);
});

test("a program that fails is told of once and not tried again", async () => {
  const folder = folderWith({ "espeak-ng": `${WRITES_DOWN}process.exit(3);` });
  const { voice, troubles } = voiceIn(folder);
  voice.say("one");
  await vi.waitFor(() => expect(troubles).toHaveLength(1), SOON);
  voice.say("two");
  expect(troubles[0]).toContain("ended with 3");
  expect(heardIn(folder)).toHaveLength(1);
});

test("a bench whose voice is off starts nothing and says nothing about it", () => {
  const { voice, troubles, written } = voiceIn(folderWith({}), { speaks: false });
  voice.say("one");
  expect([troubles, written]).toEqual([[], []]);
});

test("a folder or a file that cannot be run is no speech program", () => {
  const folder = folderWith({ say: "" });
  writeFileSync(join(folder, "espeak-ng"), "not to be run");
  expect(findSpeaker(`/nowhere:${folder}`)?.path).toBe(join(folder, "say"));
});
