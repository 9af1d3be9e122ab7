import { physicalOf } from "../data/profile/profile.ts";
import { functionWords } from "../domain/trade/functions.ts";
import { anyOf } from "./key-plan.ts";
import { spectacleRows } from "./moving-rows.ts";
import { seenPlace } from "./seen.ts";
import type { Sight, StageOf } from "./sight.ts";

import { toldPlace } from "./told.ts";
import { BLANK, capital, type Line, said } from "./view.ts";

/** The page back at the fault position: between which places it works, where it is, how to nudge it, how to end it. */
export const spotRows = (sight: Sight, stage: StageOf<"at-spot">): readonly Line[] => {
  const { session, seen, frame, plan } = sight;
  const { function: id } = stage.spot;
  const { profile } = session.job.timeline;
  const told = toldPlace(profile, stage.step, id, frame);
  const mark = { label: functionWords(id), told, seen: seen && seenPlace(seen, id, profile, told) };
  return [
    ...said(spotInWords(sight, stage), "strong"),
    ...said("Look and listen from outside the swing. Nobody reaches in."),
    BLANK,
    { kind: "strips", marks: [mark], detail: "plain" },
    BLANK,
    ...spectacleRows(sight, [id]),
    BLANK,
    ...said("LEFT or RIGHT: move the position a little that way. UP: faster. DOWN: slower."),
    ...said(`${anyOf(["enter", ...plan.press, ...plan.again, ...plan.stop])}: stop at once.`, "strong"),
    ...said("It stops by itself after a minute without a key.", "faint", 1),
  ];
};

/** How the fixture works at the fault position: "Pan moves to and fro, between 88 and 95 degrees, 2 s one way." */
export const spotInWords = ({ session }: Sight, { spot }: StageOf<"at-spot">): string => {
  const travel = session.job.timeline.profile.functions.get(spot.function);
  if (travel?.kind !== "travel") return "";
  const [low, high] = [spot.low, spot.high].map((raw) => oneDecimal(physicalOf(travel, raw)));
  const between = `between ${low} and ${high} ${travel.unit === "deg" ? "degrees" : "%"}, ${oneDecimal(spot.pass)} s one way`;
  return `${capital(functionWords(spot.function))} moves to and fro, ${between}.`;
};

const oneDecimal = (value: number): string => String(Math.round(value * 10) / 10);
