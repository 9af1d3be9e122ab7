import type { Journal } from "../ports.ts";
import { type Constants, constantsFrom } from "../presses/constants.ts";
import type { DelaySample } from "../presses/delay-sample.ts";
import { parseProfile } from "../profile/parse.ts";
import { delaySamplesOf } from "../record/delay-samples.ts";
import { viewOf } from "../record/view.ts";

/** Of so many runs at most, the latest: people change, and nobody waits long for a start. */
const MOST_RUNS = 60;

/** How quick people press and how late fixtures follow, from the latest runs in which anybody pressed. */
export const constantsIn = async (journal: Journal): Promise<Constants> => {
  const briefs = await journal.briefs({ kind: "all" });
  const pressed = briefs.filter(({ steps, person }) => person !== "" && steps.some(({ presses }) => presses > 0));
  const samples: DelaySample[] = [];
  for (const { run } of pressed.slice(-MOST_RUNS)) samples.push(...(await samplesOf(journal, run)));
  return constantsFrom(samples);
};

const samplesOf = async (journal: Journal, run: string): Promise<readonly DelaySample[]> => {
  const events = await journal.events(run);
  const { opened } = viewOf(events.map(({ body }) => body));
  const profile = opened && parseProfile(opened.profile.name, opened.profile.text);
  return profile?.ok ? delaySamplesOf(events, profile.value) : [];
};
