import type { Journal } from "../ports.ts";
import { type Constants, constantsFrom } from "../presses/constants.ts";
import type { DelaySample } from "../presses/delay-sample.ts";
import { delaySamplesOf } from "../record/delay-samples.ts";
import { type ProfileOf, readingProfiles } from "../record/digest.ts";
import { viewOf } from "../record/view.ts";

/** Of so many runs at most, the latest: people change, and nobody waits long for a start. */
const MOST_RUNS = 60;

/** How quick people press and how late fixtures follow, from the latest runs in which anybody pressed. */
export const constantsIn = async (journal: Journal): Promise<Constants> => {
  const profileOf = readingProfiles();
  const samples: DelaySample[] = [];
  for (const { run } of await journal.briefs({ kind: "pressed", latest: MOST_RUNS }))
    samples.push(...(await samplesOf(journal, run, profileOf)));
  return constantsFrom(samples);
};

const samplesOf = async (journal: Journal, run: string, profileOf: ProfileOf): Promise<readonly DelaySample[]> => {
  const events = await journal.events(run);
  const { opened } = viewOf(events.map(({ body }) => body));
  const profile = opened && profileOf(opened.profile);
  return profile ? delaySamplesOf(events, profile) : [];
};
