import { knownFault } from "../diagnosis/model/knowledge/faults.ts";
import { cleaning } from "../domain/trade/cleanings.ts";
import { functionWords } from "../domain/trade/functions.ts";
import { inspection } from "../domain/trade/inspections.ts";
import { ROUTINES } from "../domain/trade/routines.ts";
import type { BodyOf, EventBody } from "../run/events/event.ts";
import { type RunView, viewOf } from "../run/events/view.ts";

/** A photo for a page: what it shows, under which name it is kept, and the picture itself as a data address. */
export interface SheetPhoto {
  readonly words: string;
  readonly file: string;
  readonly picture: string | undefined;
}

/** The photos of a run, in the order in which they were taken. */
export const photosIn = (events: readonly EventBody[]): readonly Omit<SheetPhoto, "picture">[] => {
  const view = viewOf(events);
  return view.photos.map(({ file, of }) => ({ file, words: wordsOf(view, of) }));
};

const wordsOf = ({ steps }: RunView, of: BodyOf<"photo-taken">["of"]): string => {
  switch (of.what) {
    case "step": {
      const step = steps.find(({ id }) => id === of.step);
      if (!step) return of.step;
      return `Seen: ${[...step.functions.map(functionWords), ROUTINES[step.routine].words].join(", ")}`;
    }
    case "look":
      return `Inspection: ${inspection(of.inspection).look}`;
    case "cleaning":
      return `Cleaning: ${cleaning(of.cleaning).what}`;
    case "fault":
      return "What was wrong";
    case "repair":
      return of.fault === undefined ? "Repair" : `Repair: ${knownFault(of.fault).title}`;
    case "fixture":
      return "The fixture";
    default:
      return of satisfies never;
  }
};
