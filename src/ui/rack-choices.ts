import { placeInWords } from "../data/rack/rack.ts";
import { safeText } from "../domain/problem/terminal.ts";
import { type Batch, memberAt } from "../run/batch/batch.ts";
import type { Choice } from "./choices.ts";
import type { KeyPlan } from "./key-plan.ts";
import type { RackDesk } from "./rack-desk.ts";
import { fixtureKeys } from "./rack-keys.ts";

/**
 * The answers to the open question of a rack in the order in which the press button goes through them; none while it
 * moves, and none for a page that is guarded: that wants a letter of its own.
 */
export const rackChoicesAt = (batch: Batch, desk: RackDesk, plan: KeyPlan): readonly Choice[] => {
  const { stage } = batch;
  const again = plan.again.slice(0, 1);
  switch (stage.kind) {
    case "confirming":
      return [
        { words: watchedWords(batch, desk), keys: ["enter"] },
        ...fixtureChoices(batch, desk, plan, (name, index) =>
          desk.excepted.includes(index) ? `${name}: I watched it after all` : `${name}: I did not watch it`,
        ),
        { words: "I was not there, none of these counts", keys: again },
      ];
    case "which":
      return [...fixtureChoices(batch, desk, plan, (name) => `it was ${name}`), { words: "go on", keys: ["enter"] }];
    case "line-lost":
      return stage.back ? [] : [{ words: "continue without them", keys: again }];
    default:
      return [];
  }
};

/** The words with which somebody confirms having watched: "I watched them", and what is left out of it. */
export const watchedWords = (batch: Batch, { excepted }: RackDesk): string =>
  excepted.length === 0
    ? "I watched them, nothing else differed"
    : `I watched them, all but ${excepted.map((index) => safeText(memberAt(batch, index).serial)).join(", ")}`;

const fixtureChoices = (
  batch: Batch,
  { leafed }: RackDesk,
  plan: KeyPlan,
  words: (name: string, index: number) => string,
): readonly Choice[] =>
  [...fixtureKeys(batch, leafed, plan)]
    .filter(([index]) => !isNamed(batch, index))
    .map(([index, key]) => {
      const { serial, place } = memberAt(batch, index);
      return { words: words(`${safeText(serial)}, ${safeText(placeInWords(place))}`, index), keys: [key] };
    });

const isNamed = ({ stage }: Batch, index: number): boolean =>
  stage.kind === "which" && (stage.named.includes(index) || !isAsked(stage.next.members, index));

/** Who moved, or one of those who moved together. */
const isAsked = (members: readonly number[], index: number): boolean => members.length < 2 || members.includes(index);
