import { expect, test } from "vitest";
import { decode, NOTHING_PENDING } from "../../src/wire/decode.ts";
import { levelsMessage, type Message } from "../../src/wire/messages.ts";
import { otherDriver } from "../bench/line/other-driver.ts";
import { ptyPair } from "../kit/pty.ts";

test("another open implementation writes the same bytes as we do, and we read them", async () => {
  // dmx-ts 0.4.0, its own framed serial driver, over a pseudo-terminal.
  const levels = Uint8Array.from({ length: 512 }, (_, slot) => (slot * 7) & 255);
  const seen: { readonly message: Message; readonly raw: Uint8Array }[] = [];
  let pending = NOTHING_PENDING;
  const pair = ptyPair((bytes) => {
    const before = pending;
    const decoded = decode(pending, bytes);
    pending = decoded.pending;
    for (const message of decoded.messages) seen.push({ message, raw: Buffer.concat([before, bytes]) });
  });
  const driver = otherDriver(pair.path);
  await driver.init();
  pair.taken();
  driver.update(Object.fromEntries(Array.from(levels, (level, slot) => [slot + 1, level])));
  while (seen.length === 0) await new Promise((resolve) => setImmediate(resolve));
  await driver.close();
  pair.pullOut();
  expect(seen[0]?.message).toEqual({ label: 6, payload: Uint8Array.of(0, ...levels) });
  expect(Uint8Array.from(seen[0]?.raw.subarray(0, 518) ?? [])).toEqual(levelsMessage(levels));
});
