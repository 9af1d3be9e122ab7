import { readdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, onTestFinished, test } from "vitest";
import type { Journal } from "../../../src/run/ports.ts";
import { builtStore } from "./built-store.ts";
import { event } from "./event.ts";
import { smallDisk } from "./small-disk.ts";
import { noSmallDisk } from "./small-mount.ts";

const { openJournal } = await builtStore();
const missing = noSmallDisk();
if (missing) console.warn(`Full and read-only disks are NOT tested here: ${missing}.`);

const ids = async (journal: Journal) => (await journal.events()).map(({ id }) => id);
const opened = async (file: string) => {
  const journal = await openJournal(file);
  onTestFinished(() => journal.close());
  return journal;
};

/** Appends until that is refused, and rejects with the refusal. */
const filled = async (file: string, announced: string[]): Promise<void> => {
  const journal = await openJournal(file);
  try {
    for (let n = 0; n < 1000; n++) {
      await journal.append(event(`${n}`));
      announced.push(`${n}`);
    }
  } finally {
    expect(await ids(journal)).toEqual(announced);
    await journal.close();
  }
};

/** Writes until not one page more fits. */
const fillUp = (file: string): void => {
  for (;;)
    try {
      writeFileSync(file, Buffer.alloc(4096, 1), { flag: "a" });
    } catch {
      return;
    }
};

describe.skipIf(missing)("on a small disk", () => {
  /** From "full after some events" to "cannot even be created". */
  const levels = Array.from({ length: 18 }, (_, n) => n * 16);

  test.each(levels)("full with %i kB taken: said so, nothing lost, and on it goes with room made", async (taken) => {
    const { folder, remount } = smallDisk(280);
    const file = join(folder, "journal.db");
    writeFileSync(join(folder, "ballast"), Buffer.alloc(taken * 1024, 1));
    const announced: string[] = [];
    const refused = await filled(file, announced).catch((error) => error);
    expect(refused).toMatchObject({ code: "full", message: expect.stringContaining("Make room on it") });

    remount("size=2m");
    const journal = await opened(file);
    await journal.append(event("after"));
    expect(await ids(journal)).toEqual([...announced, "after"]);
  });

  test("appends go on in the same journal as soon as there is room", async () => {
    const { folder } = smallDisk(280);
    const journal = await opened(join(folder, "journal.db"));
    fillUp(join(folder, "ballast"));
    const lost = event("full");
    await expect(journal.append(lost)).rejects.toMatchObject({ code: "full" });
    rmSync(join(folder, "ballast"));
    await journal.append(lost);
    expect(await journal.events()).toEqual([lost]);
  });

  test("a backup onto a full disk says so and leaves nothing lying about", async () => {
    const { folder } = smallDisk(8);
    const journal = await opened(join(smallDisk(280).folder, "journal.db"));
    await journal.append(event("a"));
    const to = join(folder, "copy.db");
    await expect(journal.backup(to)).rejects.toMatchObject({ code: "full", message: expect.stringContaining(to) });
    await expect(journal.backup(to)).rejects.toMatchObject({ code: "full" });
    expect(await journal.events()).toHaveLength(1);
    expect(readdirSync(folder)).toEqual([]);
  });

  test("a disk that turned read-only under a closed journal is said to be read-only", async () => {
    const { folder, remount } = smallDisk(280);
    const file = join(folder, "journal.db");
    await (await openJournal(file)).close();
    remount("ro");
    for (const name of [file, join(folder, "new.db"), join(folder, "deep", "new.db")])
      await expect(openJournal(name)).rejects.toMatchObject({ code: "read-only" });
  });
});
