import { argv } from "node:process";
import { pathToFileURL } from "node:url";
import bayesjs from "bayesjs";
import type { Network } from "../../../src/diagnosis/model/layers.ts";
import { randomQuestion } from "./networks.ts";

/** A network with as many symptoms again as faults and few parents, so that the other engine's tables stay small. */
export const shapeOf = (faults: number) => ({
  faults,
  symptoms: 2 * faults,
  present: Math.min(12, Math.ceil(faults / 3)),
  parents: [2, 3] as const,
});

/** All posteriors by bayesjs's exact engine (junction tree), and the milliseconds they took. */
export function askOther(faults: number): { readonly ms: number; readonly posteriors: readonly number[] } {
  const { network, evidence } = randomQuestion(shapeOf(faults), faults);
  const tables = asTables(network);
  const given = Object.fromEntries([
    ...evidence.present.map((id) => [id, "yes"]),
    ...evidence.absent.map((id) => [id, "no"]),
  ]);
  const start = performance.now();
  const posteriors = network.faults.map(({ id }) => bayesjs.infer(tables, { [id]: "yes" }, given));
  return { ms: performance.now() - start, posteriors };
}

function asTables({ faults, symptoms }: Network) {
  const states = ["yes", "no"];
  const nodes = [
    ...faults.map(({ id, prior }) => ({ id, states, parents: [] as string[], cpt: { yes: prior, no: 1 - prior } })),
    ...symptoms.map(({ id, leak, links }) => ({ id, states, parents: Object.keys(links), cpt: rows(leak, links) })),
  ];
  return Object.fromEntries(nodes.map((node) => [node.id, node]));
}

function rows(leak: number, links: Readonly<Record<string, number>>) {
  const parents = Object.keys(links);
  return Array.from({ length: 2 ** parents.length }, (_, row) => {
    const on = parents.filter((_, bit) => (row >> bit) & 1);
    const silent = on.reduce((left, parent) => left * (1 - (links[parent] ?? 0)), 1 - leak);
    return {
      when: Object.fromEntries(parents.map((parent) => [parent, on.includes(parent) ? "yes" : "no"])),
      // biome-ignore lint/suspicious/noThenProperty: the other library's own key
      then: { yes: 1 - silent, no: silent },
    };
  });
}

if (import.meta.url === pathToFileURL(argv[1] ?? "").href) console.log(JSON.stringify(askOther(Number(argv[2]))));
