import { type Constants, NOTHING_MEASURED } from "./constants.ts";
import { personWords, quicknessOf, unknownsOf } from "./known-person.ts";
import type { Unknowns } from "./likelihood.ts";
import type { Quickness } from "./stopwatch.ts";
import type { Watch } from "./watch.ts";

/** What a reckoning of presses takes for this person at this kind of fixture: measured where there is enough, else what is usual. */
export interface Known {
  readonly unknowns: Unknowns;
  readonly quickness: Quickness;
  /** With the fixture's lag as it was measured at the speed of this watch. */
  readonly measured: (watch: Watch) => Watch;
  /** How quick the person is and from how many presses; undefined while there is none. */
  readonly words: string | undefined;
}

export const knownOf = ({ people, lags }: Constants, person: string, profile: string): Known => {
  const known = person === "" ? undefined : people.find((one) => one.person === person);
  const lagOf = ({ passes }: Watch) => {
    const speed = Math.round(Math.abs(passes[0]?.velocity ?? 0));
    return lags.find((one) => one.enough && one.profile === profile && one.speed === speed)?.lag;
  };
  return {
    unknowns: unknownsOf(known),
    quickness: quicknessOf(known),
    measured: (watch) => ({ ...watch, lag: lagOf(watch) ?? watch.lag }),
    words: known && `${person} ${personWords(known)}`,
  };
};

/** Nobody and nothing measured. */
export const USUAL: Known = knownOf(NOTHING_MEASURED, "", "");

/** A simulated fixture is another kind than the one it stands for: what it teaches of lag says nothing of real ones. */
export const kindOf = ({ name, simulated }: { readonly name: string; readonly simulated: boolean }): string =>
  simulated ? `${name}, simulated` : name;
