import { performance } from "node:perf_hooks";
import { fitted } from "../reports/wrap.ts";
import { Attendant } from "./attendant.ts";
import type { Tells } from "./attends.ts";
import { benchKeys } from "./foot-switch.ts";
import { REMINDER } from "./moving-rows.ts";
import type { Screen, ScreenOptions } from "./options.ts";
import { SessionTeller } from "./session-teller.ts";

/** The screen of one fixture line by line, for logs and screen readers: a sentence for each change, nothing drawn over. */
export const plainScreen = (options: ScreenOptions): Screen =>
  new PlainScreen(options, new SessionTeller(new Attendant(options, options.now ?? (() => performance.now()))));

export class PlainScreen<State, Said> implements Screen<State, Said> {
  private readonly options: ScreenOptions<unknown>;
  private readonly teller: Tells<State, Said>;
  private deaf = () => {};
  private timer: NodeJS.Timeout | undefined;
  private state: "waiting" | "open" | "closed" = "waiting";

  constructor(options: ScreenOptions<unknown>, teller: Tells<State, Said>) {
    this.options = options;
    this.teller = teller;
  }

  listen(answer: (input: Said) => void): void {
    this.teller.attends.listen(answer);
  }

  show(state: State): void {
    this.teller.attends.show(state);
    if (this.state === "waiting") this.open();
    this.tell();
  }

  notice(words: string): void {
    this.teller.attends.notice = words;
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
      () => this.teller.attends.moves,
      (name) => this.key(name),
      this.gone,
    );
    this.timer = setInterval(() => this.look(), this.teller.attends.interval);
  }

  private look(): void {
    if (this.teller.attends.remind()) this.say(`${REMINDER}\u0007`);
    this.tell();
  }

  private key(name: string): void {
    this.teller.key(name);
    this.tell();
  }

  private tell(): void {
    if (this.state === "open") for (const sentence of this.teller.changes()) this.say(sentence);
  }

  private say(sentence: string): void {
    const { isTTY, columns } = this.options.stdout;
    this.options.stdout.write(`${isTTY ? fitted(sentence, columns || 80) : sentence}\n`);
  }

  private readonly gone = (): void => {
    if (this.state === "open") this.teller.attends.gone();
  };
}
