import type { OpenTwice } from "../../io/store/sharing.ts";
import { many } from "../../reports/status-words.ts";
import type { ExchangeNote, SharedPhotos } from "./exchange-once.ts";

/** What a person should know of an exchange; nothing when all is well. */
export const troublesIn = ({ outcome }: ExchangeNote): readonly string[] => {
  if (outcome.kind === "failed") return [`Not shared: ${outcome.why}`];
  return [
    ...(outcome.forgotten
      ? ["The share takes no more events of this bench: a person told the share to forget it."]
      : []),
    ...outcome.renewed.map(
      (origin) =>
        `Another journal used the numbers of this one (an older copy was put back, or it was copied): it goes on as bench ${origin}. Nothing is lost.`,
    ),
    ...outcome.refused.map(
      ({ origin, number, why }) => `Refused from bench ${origin}: event ${number} and what follows it (${why}).`,
    ),
    ...openTwiceInWords(outcome.openTwice),
    ...(outcome.photos && outcome.photos.waiting > 0
      ? [
          `${many(outcome.photos.waiting, "photo")} not shared yet: the server is set up for events alone. "limber share join" brings it up to date.`,
        ]
      : []),
  ];
};

/** Says which fixtures are open at more than one bench, a sentence each. */
export const openTwiceInWords = (all: readonly OpenTwice[]): readonly string[] =>
  all.map(
    ({ serial, runs }) =>
      `${serial} is open at more than one bench: ${runs.map(({ run, origin }) => `run ${run} at bench ${origin}`).join(", ")}.`,
  );

/** When was exchanged last, and what, in words. */
export const doneInWords = ({ at, outcome }: ExchangeNote): string => {
  const when = at.slice(0, 16).replace("T", " ");
  return outcome.kind === "failed"
    ? `Last tried ${when} UTC`
    : `Last exchange ${when} UTC: ${many(outcome.pushed, "event")} sent, ${many(outcome.pulled, "event")} received${photosInWords(outcome.photos)}`;
};

const photosInWords = (photos: SharedPhotos | undefined): string =>
  photos && photos.sent + photos.received > 0
    ? `; ${many(photos.sent, "photo")} sent, ${many(photos.received, "photo")} received`
    : "";
