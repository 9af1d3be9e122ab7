import { performance } from "node:perf_hooks";
import { fittedText } from "../reports/wrap.ts";
import { type Batch, rackQuestionOf } from "../run/batch/batch.ts";
import type { RackInput } from "../run/machine/input.ts";
import { Attendant, type Screen, type ScreenOptions } from "./attendant.ts";
import { benchKeys } from "./keyboard.ts";
import { REMINDER } from "./moving-rows.ts";
import { changesInWords, UNBROKEN } from "./sentences.ts";
import type { Sight } from "./sight.ts";

/** The screen line by line, for logs and screen readers: a sentence for each change, nothing drawn over. */
export const plainScreen = (options: ScreenOptions): Screen =>
  new PlainScreen(options, new Attendant(options, options.now ?? (() => performance.now())));

class PlainScreen implements Screen {
  private readonly options: ScreenOptions;
  private readonly attendant: Attendant;
  /** What was told last. */
  private told: Sight | undefined;
  private deaf = () => {};
  private timer: NodeJS.Timeout | undefined;
  private state: "waiting" | "open" | "closed" = "waiting";

  constructor(options: ScreenOptions, attendant: Attendant) {
    this.options = options;
    this.attendant = attendant;
  }

  listen(answer: (input: RackInput) => void): void {
    this.attendant.listen(answer);
  }

  show(batch: Batch): void {
    this.attendant.show(batch);
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
    const { stdout } = this.options;
    stdout.on("error", this.gone);
    this.deaf = benchKeys(
      this.options,
      () => this.attendant.moves,
      (name) => this.key(name),
      this.gone,
    );
    this.timer = setInterval(() => this.look(), this.attendant.interval);
  }

  private look(): void {
    if (this.attendant.remind()) this.say(`${REMINDER}\u0007`);
    this.tell();
  }

  private key(name: string): void {
    const { told } = this;
    this.attendant.key(name, told && { batch: told.batch, question: rackQuestionOf(told.batch) });
    this.tell();
  }

  private tell(): void {
    const { batch } = this.attendant;
    if (this.state !== "open" || !batch) return;
    const before = this.told;
    this.told = this.attendant.sight(batch, UNBROKEN);
    for (const sentence of changesInWords(before, this.told)) this.say(sentence);
  }

  private say(sentence: string): void {
    const { isTTY, columns } = this.options.stdout;
    this.options.stdout.write(`${isTTY ? fittedText(sentence, columns || 80) : sentence}\n`);
  }

  private readonly gone = (): void => {
    if (this.state === "open") this.attendant.gone();
  };
}
