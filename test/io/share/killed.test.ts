import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { built } from "../../kit/built.ts";
import { workplace } from "../../kit/limber.ts";
import { noPostgres, type OwnPostgres, ownPostgres } from "../../kit/postgres.ts";
import { exchangeAndKill } from "./killing.ts";

const missing = noPostgres();
if (missing) console.warn(`sharing benches that are killed are NOT tested here: ${missing}.`);

describe.skipIf(missing)("benches that share", () => {
  const place = workplace();
  let server: OwnPostgres;
  beforeAll(async () => {
    server = await ownPostgres();
  }, 120_000);
  afterAll(async () => {
    await server?.remove();
    place.remove();
  });

  test("three processes, killed while the server falls and connections break: in the end all have the same, nothing lost, nothing twice", async () => {
    const { tables, ...toll } = await exchangeAndKill(built(), place.folder, server, 6);
    expect(toll).toMatchObject({ lost: [], twice: [], findings: 0 });
    expect(toll.announced).toBeGreaterThan(6 * 3);
    expect(new Set(tables).size).toBe(1);
  }, 300_000);
});
