import { expect, test } from "vitest";
import { inGroups } from "../../../src/io/store/journal.ts";

/** A write that ends when the test says so. */
const slowWrite = () => {
  const groups: (readonly string[])[] = [];
  const ends: { readonly done: () => void; readonly failed: (error: Error) => void }[] = [];
  const write = (group: readonly string[]) =>
    new Promise<void>((done, failed) => {
      groups.push(group);
      ends.push({ done, failed });
    });
  return { groups, ends, write };
};

test("what comes during a write goes into the next one, and each is told with its own", async () => {
  const { groups, ends, write } = slowWrite();
  const { add, rest } = inGroups(write);
  const told: string[] = [];
  const adds = ["a", "b", "c", "d"].map(async (item, n) => {
    if (n > 1) await Promise.resolve();
    await add(item);
    told.push(item);
  });
  await Promise.resolve();
  await Promise.resolve();
  expect([groups, told]).toEqual([[["a", "b"]], []]);
  ends[0]!.done();
  await Promise.all(adds.slice(0, 2));
  expect(told).toEqual(["a", "b"]);
  await Promise.resolve();
  ends[1]!.done();
  await Promise.all(adds);
  expect(groups).toEqual([
    ["a", "b"],
    ["c", "d"],
  ]);
  await rest();
});

test("a write that fails is told to its own group only", async () => {
  const { ends, write } = slowWrite();
  const { add, rest } = inGroups(write);
  const first = add("a");
  await Promise.resolve();
  const second = add("b");
  ends[0]!.failed(new Error("full"));
  await expect(first).rejects.toThrow("full");
  ends[1]!.done();
  await second;
  await rest();
});
