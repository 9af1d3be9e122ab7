import { expect, test } from "vitest";
import { FAULTS, type KnownFault } from "../../../src/diagnosis/model/knowledge/faults.ts";

/**
 * For each symptom and each look, which faults bring it about most, as a repairer would say it: "the iris grinds: rather
 * a bent leaf than burnt ones". Numbers may be bettered freely; changing who comes before whom is a statement about the
 * trade and shows here. Common practice, no source.
 */
test("who shows what, most often first", async () => {
  await expect(orders()).toMatchFileSnapshot("./who-shows-it.txt");
});

test("exchanging any two links that differ within a symptom or a look changes that page", () => {
  const page = orders();
  const links = FAULTS.flatMap((fault) => linksOf(fault).map((link) => ({ fault, ...link })));
  const swaps = links.flatMap((a, i) =>
    links.slice(i + 1).flatMap((b) => (a.where === b.where && a.value !== b.value ? [[a, b] as const] : [])),
  );
  expect(swaps.length).toBeGreaterThan(500);
  const unnoticed = swaps.filter(([a, b]) => orders(put(put(FAULTS, a, b.value), b, a.value)) === page);
  expect(unnoticed).toEqual([]);
});

interface Link {
  readonly part: "shows" | "found";
  readonly key: string;
  readonly where: string;
  readonly value: number;
}

const linksOf = ({ mechanism, shows, found }: KnownFault): readonly Link[] => [
  ...Object.entries(shows).map(([key, value]) => ({
    part: "shows" as const,
    key,
    where: key.includes("/") ? key : `${mechanism}/${key}`,
    value,
  })),
  ...Object.entries(found).map(([key, value]) => ({ part: "found" as const, key, where: `inspection/${key}`, value })),
];

const put = (
  faults: readonly KnownFault[],
  { fault, part, key }: Link & { readonly fault: KnownFault },
  value: number,
) => faults.map((one) => (one.id === fault.id ? { ...one, [part]: { ...one[part], [key]: value } } : one));

function orders(faults: readonly KnownFault[] = FAULTS): string {
  const rows = new Map<string, { readonly id: string; readonly value: number }[]>();
  for (const fault of faults)
    for (const { where, value } of linksOf(fault))
      rows.set(where, [...(rows.get(where) ?? []), { id: fault.id, value }]);
  return `${[...rows]
    .map(([where, row]) => `${where}: ${inOrder(row)}`)
    .sort()
    .join("\n")}\n`;
}

/** Equals stand side by side. */
const inOrder = (row: readonly { readonly id: string; readonly value: number }[]): string =>
  [...new Set(row.map(({ value }) => value))]
    .sort((a, b) => b - a)
    .map((value) =>
      row
        .filter((one) => one.value === value)
        .map(({ id }) => id)
        .sort()
        .join(" = "),
    )
    .join(" > ");
