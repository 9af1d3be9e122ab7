import { type ChildProcess, spawn } from "node:child_process";
import type { WriteStream } from "node:tty";
import { safeText } from "../../domain/problem/terminal.ts";
import type { Voice } from "../../run/ports.ts";
import { findSpeaker, type Speaker } from "./speaker.ts";

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
