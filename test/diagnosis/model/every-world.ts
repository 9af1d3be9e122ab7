import type { Evidence, LayeredFault, LayeredNetwork, NetworkEffect } from "../../../src/diagnosis/model/layers.ts";

/** All that can happen to a fault, written out: each way with each choice of effects, and how often each symptom then stays away. */
const worldsOf = ({ prior, effects, ways }: LayeredFault): readonly World[] => {
  const there = (ways.length === 0 ? [{ share: 1, effects: [] as readonly NetworkEffect[] }] : ways).flatMap((way) =>
    choices([...effects, ...way.effects]).map(({ weight, happened }) => ({
      weight: prior * way.share * weight,
      there: true,
      quiet: (id: string) => happened.reduce((left, { links }) => left * (1 - (links.get(id) ?? 0)), 1),
    })),
  );
  return [{ weight: 1 - prior, there: false, quiet: () => 1 }, ...there];
};

interface World {
  readonly weight: number;
  readonly there: boolean;
  readonly quiet: (id: string) => number;
}

const choices = (
  effects: readonly NetworkEffect[],
): readonly { readonly weight: number; readonly happened: readonly NetworkEffect[] }[] =>
  effects.reduce<readonly { readonly weight: number; readonly happened: readonly NetworkEffect[] }[]>(
    (all, one) =>
      all.flatMap(({ weight, happened }) => [
        { weight: weight * (1 - one.probability), happened },
        { weight: weight * one.probability, happened: [...happened, one] },
      ]),
    [{ weight: 1, happened: [] }],
  );

/** Brute force over all worlds of all faults together. */
export const enumerated = ({ faults, symptoms }: LayeredNetwork, { present, absent }: Evidence) => {
  const combined = faults.reduce<readonly (readonly World[])[]>(
    (all, one) => all.flatMap((worlds) => worldsOf(one).map((world) => [...worlds, world])),
    [[]],
  );
  const weights = combined.map((worlds) => {
    const prior = worlds.reduce((product, { weight }) => product * weight, 1);
    const quiet = (id: string) =>
      worlds.reduce((left, world) => left * world.quiet(id), 1 - symptoms.find((one) => one.id === id)!.leak);
    return [...present.map((id) => 1 - quiet(id)), ...absent.map(quiet)].reduce((product, one) => product * one, prior);
  });
  const whole = weights.reduce((sum, one) => sum + one, 0);
  const share = (holds: (worlds: readonly World[]) => boolean) =>
    weights.reduce((sum, one, i) => (holds(combined[i]!) ? sum + one : sum), 0) / whole;
  const idle = (worlds: readonly World[], i: number) =>
    present.reduce((product, id) => {
      const own = worlds[i]!.quiet(id);
      const others = worlds.reduce(
        (left, world, n) => (n === i ? left : left * world.quiet(id)),
        1 - symptoms.find((one) => one.id === id)!.leak,
      );
      return (product * own * (1 - others)) / (1 - own * others);
    }, 1);
  return {
    probability: whole,
    none: share((worlds) => worlds.every(({ there }) => !there)),
    posteriors: faults.map((_, i) => share((worlds) => worlds[i]!.there)),
    /** There, and not all that is present was switched on by something else. */
    behind: faults.map(
      (_, i) =>
        weights.reduce((sum, one, n) => (combined[n]![i]!.there ? sum + one * (1 - idle(combined[n]!, i)) : sum), 0) /
        whole,
    ),
  };
};
