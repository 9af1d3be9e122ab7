import type { Stance } from "./moment.ts";
import type { Sounds } from "./scene.ts";
import { SILENCE } from "./scene.ts";
import type { Drive, MoverTrouble } from "./trouble.ts";

/** What several troubles on one part add up to. */
export const dragOf = (troubles: readonly MoverTrouble[], stance: Stance): number =>
  1 - troubles.reduce((free, { drag }) => free * (1 - (drag?.(stance) ?? 0)), 1);

/** Resistance and restraint together: what is left of its strength is the product. */
export const restraintOf = (troubles: readonly MoverTrouble[], stance: Stance, drag: number): number =>
  1 - troubles.reduce((free, { holdsBack }) => free * (1 - (holdsBack?.(stance) ?? 0)), 1 - drag);

export const driveOf = (troubles: readonly MoverTrouble[], stance: Stance): Drive => {
  const drives = troubles.map(({ drive }) => drive?.(stance) ?? "alive");
  return drives.includes("dead") ? "dead" : drives.includes("buzzing") ? "buzzing" : "alive";
};

type Measure = "play" | "pull" | "slip" | "misreads" | "homeShift";
export const sumOf = (troubles: readonly MoverTrouble[], measure: Measure, stance: Stance): number =>
  troubles.reduce((sum, trouble) => sum + (trouble[measure]?.(stance) ?? 0), 0);

export const loosenessOf = (troubles: readonly MoverTrouble[]): number =>
  troubles.reduce((sum, { looseness }) => sum + (looseness ?? 0), 0);

export const triesOf = (troubles: readonly MoverTrouble[], stance: Stance): number =>
  Math.max(1, ...troubles.map(({ homeTries }) => homeTries?.(stance) ?? 1));

export const soundsOf = (troubles: readonly MoverTrouble[], stance: Stance, own: Partial<Sounds>): Sounds =>
  troubles.reduce((heard, { sounds }) => louder(heard, sounds?.(stance) ?? {}), louder(SILENCE, own));

/** Of two sounds of a kind only the louder is heard. */
export const louder = (a: Sounds, b: Partial<Sounds>): Sounds => ({
  hum: Math.max(a.hum, b.hum ?? 0),
  scrape: Math.max(a.scrape, b.scrape ?? 0),
  knock: Math.max(a.knock, b.knock ?? 0),
  tick: Math.max(a.tick, b.tick ?? 0),
  whine: Math.max(a.whine, b.whine ?? 0),
  rattle: Math.max(a.rattle, b.rattle ?? 0),
});
