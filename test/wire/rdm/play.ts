import type { Aside, Dialogue } from "../../../src/wire/rdm/dialogue.ts";
import { onTheCable } from "../../../src/wire/rdm/dialogue.ts";

/** Plays a dialogue against whoever answers bytes, in no time at all; what it says aside comes to `aside`. */
export const play = <T>(
  dialogue: Dialogue<T>,
  answer: (packet: Uint8Array) => Uint8Array | undefined,
  aside: (said: Aside) => void = () => {},
): T => {
  const talk = onTheCable(dialogue);
  let next = talk.next();
  while (!next.done) {
    if (next.value.kind !== "send") {
      aside(next.value);
      next = talk.next(undefined);
      continue;
    }
    const bytes = answer(next.value.packet);
    next = talk.next(bytes === undefined ? { kind: "nothing" } : { kind: "bytes", bytes });
  }
  return next.value;
};
