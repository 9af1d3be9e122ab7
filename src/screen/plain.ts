import { performance } from "node:perf_hooks";
import type { Input } from "../session/input.ts";
import { questionOf, type Session } from "../session/session.ts";
import { Attendant } from "./attendant.ts";
import { keyboard } from "./keyboard.ts";
import { REMINDER } from "./moving-rows.ts";
import type { Screen, ScreenOptions } from "./options.ts";
import { changesInWords, UNBROKEN } from "./sentences.ts";
import type { Sight } from "./sight.ts";
import { spectacleChanges } from "./spectacle-words.ts";

/** The same questions and answers line by line, for logs and screen readers: a sentence for each change, nothing drawn over. */
export const plainScreen = (options: ScreenOptions): Screen => new PlainScreen(options);

class PlainScreen implements Screen {
  private readonly options: ScreenOptions;
  private readonly attendant: Attendant;
  private told: Sight | undefined;
  private deaf = () => {};
  private timer: NodeJS.Timeout | undefined;
  private state: "waiting" | "open" | "closed" = "waiting";

  constructor(options: ScreenOptions) {
    this.options = options;
    this.attendant = new Attendant(options, options.now ?? (() => performance.now()));
  }

  listen(answer: (input: Input) => void): void {
    this.attendant.listen(answer);
  }

  show(session: Session): void {
    this.attendant.show(session);
    if (this.state === "waiting") this.open();
    this.tell();
  }

  notice(words: string): void {
    this.attendant.notice = words;
    this.tell();
  }

  close(): void {
    if (this.state !== "open") return;
    this.state = "closed";
    clearInterval(this.timer);
    this.deaf();
  }

  private open(): void {
    this.state = "open";
    const { stdin, stdout } = this.options;
    stdout.on("error", this.gone);
    this.deaf = keyboard(stdin, (name) => this.key(name), this.gone);
    this.timer = setInterval(() => this.look(), this.attendant.interval);
  }

  private look(): void {
    if (this.attendant.remind()) this.say(`${REMINDER}\u0007`);
    this.tell();
  }

  /** What was told last is what a key answers. */
  private key(name: string): void {
    const { told } = this;
    if (told) this.attendant.key(name, { session: told.session, question: questionOf(told.session) });
    this.tell();
  }

  private tell(): void {
    const { session } = this.attendant;
    if (!session || this.state !== "open") return;
    const now = this.attendant.sight(session, UNBROKEN);
    const { told } = this;
    this.told = now;
    for (const sentence of [...changesInWords(told, now), ...spectacleChanges(told, now), ...typedWords(told, now)])
      this.say(sentence);
  }

  private say(sentence: string): void {
    this.options.stdout.write(`${sentence}\n`);
  }

  private readonly gone = (): void => {
    if (this.state === "open") this.attendant.gone();
  };
}

/** Text being typed is repeated in whole after each key: nothing is drawn over. */
const typedWords = (before: Sight | undefined, { desk }: Sight): readonly string[] => {
  const old = before?.desk.entry;
  const { entry } = desk;
  if (!entry || (old && old.text === entry.text && old.what === entry.what)) return [];
  if (!old)
    return [
      `${entry.what === "note" ? "Type your note" : "Type the initials of who watches"}; ENTER keeps it, ESCAPE drops it.`,
    ];
  return [];
};
