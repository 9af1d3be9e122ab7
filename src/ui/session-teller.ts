import type { WatcherInput } from "../run/session/input.ts";
import { questionOf, type Session } from "../run/session/session.ts";
import type { Attendant } from "./attendant.ts";
import { ENTRIES } from "./person-rows.ts";
import { changesInWords, UNBROKEN } from "./sentences.ts";
import type { Sight } from "./sight.ts";
import { spectacleChanges } from "./spectacle-words.ts";
import type { Tells } from "./tells.ts";

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
