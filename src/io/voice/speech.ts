import { type ChildProcess, spawn } from "node:child_process";
import { accessSync, constants, statSync } from "node:fs";
import { delimiter, join } from "node:path";
import type { WriteStream } from "node:tty";
import { safeText } from "../../domain/problem/shown-text.ts";
import type { Voice } from "../../run/ports.ts";

export interface SpeechOptions {
  /** Settings of the bench file: whether it speaks, and whether the terminal's bell rings before each announcement. */
  readonly speaks: boolean;
  readonly rings: boolean;
  readonly stdout: Pick<WriteStream, "write">;
  /** Called at most once: why nothing is said aloud. */
  readonly trouble: (words: string) => void;
  readonly path?: string;
}

/** A voice that can be let go of. */
export interface Speech extends Voice {
  close(): void;
}

/** Speaks through the system's own speech program; what comes later cuts off what is still being said. */
export const speech = (options: SpeechOptions): Speech => new SystemSpeech(options);

const BELL = "\u0007";
/** Longer than any announcement; a note of a person is never spoken. */
const MOST_CHARACTERS = 400;

class SystemSpeech implements Speech {
  private readonly options: SpeechOptions;
  private speaker: Speaker | undefined;
  private state: "not looked" | "speaks" | "silent";
  private speaking: ChildProcess | undefined;

  constructor(options: SpeechOptions) {
    this.options = options;
    this.state = options.speaks ? "not looked" : "silent";
  }

  say(text: string): void {
    if (this.options.rings) this.bell();
    const words = safeText(text).slice(0, MOST_CHARACTERS).trim();
    if (this.state === "not looked") this.find();
    if (this.speaker && words !== "") this.speak(this.speaker, words);
  }

  /** Only when there is something to say: until then nobody could read why it is not said. */
  private find(): void {
    this.speaker = findSpeaker(this.options.path ?? process.env["PATH"] ?? "");
    this.state = "speaks";
    if (!this.speaker) this.silent("No speech program found (espeak-ng, spd-say or say)");
  }

  bell(): void {
    this.options.stdout.write(BELL);
  }

  close(): void {
    this.cutOff();
  }

  private speak(speaker: Speaker, words: string): void {
    this.cutOff();
    const child = spawn(speaker.path, speaker.args(words), {
      stdio: [speaker.stdin ? "pipe" : "ignore", "ignore", "ignore"],
    });
    this.speaking = child;
    child.on("error", (error) => this.silent(`${speaker.path} cannot speak: ${error.message}`));
    child.on("exit", (code) => this.ended(child, speaker, code));
    child.stdin?.on("error", () => {});
    child.stdin?.end(words);
  }

  /** Cut off is no trouble; ended by itself with a complaint is. */
  private ended(child: ChildProcess, speaker: Speaker, code: number | null): void {
    if (this.speaking !== child) return;
    this.speaking = undefined;
    if (code) this.silent(`${speaker.path} cannot speak (it ended with ${code})`);
  }

  private cutOff(): void {
    const { speaking, speaker } = this;
    this.speaking = undefined;
    if (!speaking || !speaker) return;
    speaking.kill();
    if (speaker.hush) spawn(speaker.path, speaker.hush, { stdio: "ignore" }).on("error", () => {});
  }

  private silent(words: string): void {
    if (this.state === "silent") return;
    this.state = "silent";
    this.speaker = undefined;
    this.speaking = undefined;
    this.options.trouble(`${words}: nothing is said aloud.`);
  }
}

/** A speech program of the system, and how it is told what to say: never through a shell, never where text could be an option. */
export interface Speaker {
  readonly path: string;
  readonly args: (text: string) => readonly string[];
  /** Whether it reads the text from its standard input. */
  readonly stdin: boolean;
  /** What has to be run to cut it off, when ending the program is not enough. */
  readonly hush: readonly string[] | undefined;
}

interface KnownSpeaker extends Omit<Speaker, "path"> {
  readonly name: string;
}

/** In the order in which they are looked for. Their own manual pages (memory). */
const KNOWN: readonly KnownSpeaker[] = [
  { name: "espeak-ng", args: () => ["--stdin"], stdin: true, hush: undefined },
  { name: "spd-say", args: (text) => ["--wait", "--", text], stdin: false, hush: ["--cancel"] },
  { name: "say", args: () => ["-f", "-"], stdin: true, hush: undefined },
];

/** The first speech program on the path, or undefined when there is none. */
export const findSpeaker = (path: string): Speaker | undefined => {
  for (const { name, ...how } of KNOWN) {
    const place = path
      .split(delimiter)
      .map((folder) => join(folder || ".", name))
      .find(canRun);
    if (place) return { path: place, ...how };
  }
  return undefined;
};

const canRun = (file: string): boolean => {
  try {
    accessSync(file, constants.X_OK);
    return statSync(file).isFile();
  } catch {
    return false;
  }
};

/** Says nothing: for runs without a person. */
export const silentVoice: Voice = { say: () => {}, bell: () => {} };
