import { type Aside, type CableTalk, type Dialogue, type Heard, onTheCable } from "../../wire/rdm/dialogue.ts";
import type { RdmDoor } from "../ports.ts";

/** How a talk ended: with what it was for, or because nothing at the other end does RDM. */
export type Talked<T> = { readonly kind: "done"; readonly value: T } | { readonly kind: "no-rdm" };

/** Waits for this time before a fixture is asked again. */
const pause = (seconds: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, seconds * 1000));

/**
 * Plays a dialogue through a door, one packet after the other. Given up when the first question that must be
 * answered brings not even the interface's word that nobody answered. `before` is waited for before every packet.
 * Rejects with what the door rejects with.
 */
export const talk = async <T>(
  dialogue: Dialogue<T>,
  door: RdmDoor,
  { aside = () => {}, before = async () => {} }: TalkOptions = {},
): Promise<Talked<T>> => {
  const cable: CableTalk<T> = onTheCable(dialogue);
  let heardAnything = false;
  let next = cable.next();
  while (!next.done) {
    const step = next.value;
    if (step.kind !== "send") {
      if (step.kind === "pause") await pause(step.time);
      else aside(step);
      next = cable.next(undefined);
      continue;
    }
    await before();
    const heard: Heard = await door.exchange(step);
    heardAnything ||= heard.kind !== "unheard";
    if (!heardAnything && step.answered !== "by-nobody") return { kind: "no-rdm" };
    next = cable.next(heard);
  }
  return { kind: "done", value: next.value };
};

export interface TalkOptions {
  readonly aside?: (said: Exclude<Aside, { kind: "pause" }>) => void;
  readonly before?: () => Promise<void>;
}

/** Talks while a run goes on: every packet waits until everything that hears the line stands still. */
export class TalkWhenStill {
  private waiting: (() => void)[] = [];
  private asking = 0;
  private closed = false;

  /** A packet is out, and what comes of it has not been heard. */
  get busy(): boolean {
    return this.asking > 0;
  }

  /** Lets every packet go that waits for stillness. */
  standsStill(): void {
    const waiting = this.waiting.splice(0);
    this.asking += waiting.length;
    for (const go of waiting) go();
  }

  /** Waits for stillness no more, since nothing will move: dialogues under way come to their end. */
  close(): void {
    this.closed = true;
    for (const go of this.waiting.splice(0)) go();
  }

  /** Plays a dialogue through a door as `talk` does; rejects with what the door rejects with. */
  talk<T>(door: RdmDoor, dialogue: Dialogue<T>): Promise<Talked<T>> {
    let isAsking = false;
    const answered = () => {
      if (isAsking) this.asking -= 1;
      isAsking = false;
    };
    const before = async () => {
      await this.stillness();
      isAsking = !this.closed;
    };
    const counted: RdmDoor = { ...door, exchange: (send) => door.exchange(send).finally(answered) };
    return talk(dialogue, counted, { before });
  }

  private stillness(): Promise<void> {
    return this.closed ? Promise.resolve() : new Promise((resolve) => this.waiting.push(resolve));
  }
}

/** Opens a door for this work and closes it again, whatever comes of the work. Rejects with what either rejects with. */
export const whileOpen = async <T>(door: RdmDoor, work: () => Promise<T>): Promise<T> => {
  await door.open();
  try {
    return await work();
  } finally {
    await door.close();
  }
};

/** Said once where a door turned out to do no RDM. */
export const NO_RDM = "this interface does not do RDM, or nothing answers";
