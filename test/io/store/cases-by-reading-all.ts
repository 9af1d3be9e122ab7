import { parseProfile } from "../../../src/data/profile/parse.ts";
import { fittedOf } from "../../../src/data/profile/profile.ts";
import { type Case, CLEAN, caseFrom } from "../../../src/diagnosis/model/case.ts";
import type { RunEvent } from "../../../src/run/events/event.ts";
import { answersOf, observationsOf } from "../../../src/run/events/observations.ts";
import { type RunView, viewOf } from "../../../src/run/events/view.ts";
import { must } from "../../kit/shipped.ts";

/** The cases of a journal by going through every event of it: the plain way, to compare with. Without looks by hand. */
export const casesByReadingAll = (events: readonly RunEvent[]): readonly Case[] => {
  const views = [...new Set(events.map(({ run }) => run))].map((run) => ({
    run,
    view: viewOf(events.filter((event) => event.run === run).map(({ body }) => body)),
  }));
  return views.flatMap(({ run, view }) => {
    const opened = view.opened!;
    if (opened.simulated) return [];
    if (view.found.length === 0) return passedWhole(view) && opened.replays === undefined ? [CLEAN] : [];
    const profile = must(parseProfile(opened.profile.name, opened.profile.text));
    const rest = views.some((other) => other.view.opened?.replays === run && passedWhole(other.view))
      ? "absent"
      : "unknown";
    const confirmed = view.found.flatMap((found) => (found.what === "fault" ? [found.fault] : []));
    const outcome = { confirmed, cleared: [], rest } as const;
    return [caseFrom(fittedOf(profile), observationsOf(view, profile), answersOf(view), outcome)];
  });
};

/** On a real fixture: a simulated replay proves nothing. */
const passedWhole = ({ opened, closed, steps }: RunView): boolean =>
  opened?.simulated === false &&
  closed === "finished" &&
  steps.every(({ judged }) => judged?.result === "pass" || judged?.result === "not-fitted");
