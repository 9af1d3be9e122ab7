import { chmodSync, readFileSync } from "node:fs";
import { afterAll, expect, test } from "vitest";
import { workplace } from "../kit/limber.ts";
import { lineDecoder } from "../kit/line-decoder.ts";
import { ptyPair } from "../kit/pty.ts";

const place = workplace();
afterAll(() => place.remove());

test("it says what is there and sends nobody away who only lacks an interface", () => {
  const { code, out, err } = place.limber("doctor", "--journal", place.journal);
  expect({ code, err }).toEqual({ code: 0, err: "" });
  expect(out).toContain(`Limber        ${JSON.parse(readFileSync("package.json", "utf8")).version} on `);
  expect(out).toContain("none yet; the first run makes");
  expect(out).toContain("Nothing stands in the way of a run.");
});

test("the same as JSON, for a script", () => {
  const checked = JSON.parse(place.limber("doctor", "--json", "--journal", place.journal).out);
  expect(checked).toContainEqual({ about: "Node", state: "good", found: process.version.slice(1), todo: "" });
});

test("a journal that others may read ends with 3 and says what to type", () => {
  place.limber(
    ..."sweep --profile led-wash --sequence first-look --watcher 1 --fast --journal".split(" "),
    place.journal,
  );
  chmodSync(place.journal, 0o644);
  const { code, out } = place.limber("doctor", "--journal", place.journal);
  expect(code).toBe(3);
  expect(out).toContain("chmod 600");
});

test("an output that is none is refused as everywhere", () => {
  const { code, err } = place.limber("doctor", "--output", "usb");
  expect(code).toBe(2);
  expect(err).toContain("--output");
});

/** Labels 3 and its answer of the framed serial messages (secondary): firmware 1.68, break 17 and mark 2 units, 40 packets. */
const PARAMETERS = Uint8Array.of(0x7e, 0x03, 0x05, 0x00, 0x44, 0x01, 0x11, 0x02, 0x28, 0xe7);

test("an interface is asked for its parameters, and no levels are sent to it", async () => {
  const decoder = lineDecoder();
  const pair = ptyPair((bytes) => {
    pair.taken();
    const before = decoder.otherLabels.length;
    decoder.take(bytes);
    if (decoder.otherLabels.length > before) pair.say(PARAMETERS);
  });
  const asking = place.starting("doctor", "--output", `serial:${pair.path}`, "--journal", `${place.journal}-none`);
  let out = "";
  asking.stdout.on("data", (text) => {
    out += text;
  });
  await new Promise((resolve) => asking.on("close", resolve));
  pair.pullOut();
  expect(out.replaceAll(/\s+/g, " ")).toContain(
    "answers: firmware 1.68, break 181 microseconds, mark 21 microseconds, 40 packets a second",
  );
  expect(decoder.packets).toEqual([]);
});
