import { performance } from "node:perf_hooks";
import { safeText } from "../domain/problem/terminal.ts";
import { functionWords } from "../domain/trade/functions.ts";
import { fittedText } from "../reports/wrap.ts";
import { type Batch, lookedAtAlone, rackQuestionOf } from "../run/batch/batch.ts";
import type { RackInput } from "../run/machine/input.ts";
import { Attendant } from "./attendant.ts";
import { ENTRIES } from "./foot-rows.ts";
import { benchKeys } from "./foot-switch.ts";
import { REMINDER } from "./moving-rows.ts";
import type { Screen, ScreenOptions } from "./options.ts";
import { rackChanges } from "./rack-sentences.ts";
import type { Seen } from "./seen.ts";
import { changesInWords, UNBROKEN } from "./sentences.ts";
import type { RackSight, Sight } from "./sight.ts";

/** The screen line by line, for logs and screen readers: a sentence for each change, nothing drawn over. */
export const plainScreen = (options: ScreenOptions): Screen =>
  new PlainScreen(options, new Attendant(options, options.now ?? (() => performance.now())));

class PlainScreen implements Screen {
  private readonly options: ScreenOptions;
  private readonly attendant: Attendant;
  private told: Told | undefined;
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
    const now: Told = {
      batch,
      sight: this.attendant.sight(batch, UNBROKEN),
      alone: this.attendant.sightAlone(batch, UNBROKEN),
    };
    this.told = now;
    for (const sentence of changesIn(before, now)) this.say(sentence);
  }

  private say(sentence: string): void {
    const { isTTY, columns } = this.options.stdout;
    this.options.stdout.write(`${isTTY ? fittedText(sentence, columns || 80) : sentence}\n`);
  }

  private readonly gone = (): void => {
    if (this.state === "open") this.attendant.gone();
  };
}

/** What was told last. */
interface Told {
  readonly batch: Batch;
  readonly sight: RackSight;
  /** Of the fixture that is looked at alone; undefined while none is. */
  readonly alone: Sight | undefined;
}

/** What has changed since it was told last: of a fixture that is looked at alone, or of them all. */
const changesIn = (before: Told | undefined, now: Told): readonly string[] => {
  if (!now.alone) return rackChanges(before?.sight, now.sight);
  const same = before && onlyOneOf(before.batch) === onlyOneOf(now.batch) ? before.alone : undefined;
  return [...changesInWords(same, now.alone), ...spectacleChanges(same, now.alone), ...typedWords(same, now.alone)];
};

const onlyOneOf = (batch: Batch): string | undefined => lookedAtAlone(batch)?.run;

/** Text being typed is repeated in whole after each key: nothing is drawn over. */
const typedWords = (before: Sight | undefined, { desk }: Sight): readonly string[] => {
  const old = before?.desk.entry;
  const { entry } = desk;
  if (!entry || (old && old.text === entry.text && old.what === entry.what)) return [];
  if (!old)
    return [
      `Type ${ENTRIES[entry.what].replace(/^[A-Z]/, (first) => first.toLowerCase())}; ENTER saves it, ESCAPE cancels.`,
    ];
  return [];
};

/**
 * What can be seen and heard of the simulated fixture now and could not before, in sentences. Travel
 * is not told: it changes all the time.
 */
const spectacleChanges = (before: Sight | undefined, now: Sight): readonly string[] => {
  const [old, seen] = [before?.seen?.spectacle, now.seen?.spectacle];
  if (!seen || seen === old) return [];
  const { sounds, light, display } = seen;
  return [
    ...(sounds.join() === (old?.sounds.join() ?? "")
      ? []
      : [sounds.length > 0 ? `You hear: ${sounds.map(safeText).join(", ")}.` : "It is quiet."]),
    ...(light === old?.light ? [] : [`On the wall: ${safeText(light)}.`]),
    ...(display === (old?.display ?? "") ? [] : [`Display: ${display === "" ? "dark" : safeText(display)}.`]),
    ...partChanges(old, seen),
  ];
};

type SeenSpectacle = Seen["spectacle"];

/** "colour wheel: red": words, not figures. */
const partChanges = (old: SeenSpectacle | undefined, { parts }: SeenSpectacle): readonly string[] =>
  parts.flatMap((part) => {
    const was = old?.parts.find((one) => one.function === part.function)?.words ?? "";
    if (part.words === was || /\d/.test(part.words + was)) return [];
    return part.words === "" ? [] : [`${functionWords(part.function)}: ${safeText(part.words)}.`];
  });
