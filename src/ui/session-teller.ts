import { safeText } from "../domain/problem/terminal.ts";
import { functionWords } from "../domain/trade/functions.ts";
import type { WatcherInput } from "../run/session/input.ts";
import { questionOf, type Session } from "../run/session/session.ts";
import type { Attendant } from "./attendant.ts";
import type { Tells } from "./attends.ts";
import { ENTRIES } from "./foot-rows.ts";
import type { Seen } from "./seen.ts";
import { changesInWords, UNBROKEN } from "./sentences.ts";
import type { Sight } from "./sight.ts";

/** Tells of one fixture's session: a sentence for each change. */
export class SessionTeller implements Tells<Session, WatcherInput> {
  readonly attends: Attendant;
  private told: Sight | undefined;

  constructor(attendant: Attendant) {
    this.attends = attendant;
  }

  key(name: string): void {
    const { told } = this;
    this.attends.key(name, told && { session: told.session, question: questionOf(told.session) });
  }

  changes(): readonly string[] {
    const { session } = this.attends;
    if (!session) return [];
    const now = this.attends.sight(session, UNBROKEN);
    const { told } = this;
    this.told = now;
    return [...changesInWords(told, now), ...spectacleChanges(told, now), ...typedWords(told, now)];
  }
}

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

type Shown = Seen["spectacle"];

/** "colour wheel: red": words, not figures. */
const partChanges = (old: Shown | undefined, { parts }: Shown): readonly string[] =>
  parts.flatMap((part) => {
    const was = old?.parts.find((one) => one.function === part.function)?.words ?? "";
    if (part.words === was || /\d/.test(part.words + was)) return [];
    return part.words === "" ? [] : [`${functionWords(part.function)}: ${safeText(part.words)}.`];
  });
