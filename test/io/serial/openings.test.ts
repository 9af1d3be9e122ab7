import { statSync } from "node:fs";
import { expect, test } from "vitest";
import { framedLine } from "../../../src/io/serial/framed-line.ts";
import { descriptorsOf, type PtyPair, ptyPair } from "../../kit/pty.ts";
import { sample } from "./cable-bench.ts";

const OPENINGS = 10;

/** A cable, and when the interface at its other end has first heard something. */
interface Plugged {
  readonly cable: PtyPair;
  readonly heard: Promise<void>;
}

const plugIn = (): Plugged => {
  let hear = () => {};
  const heard = new Promise<void>((resolve) => {
    hear = resolve;
  });
  return { cable: ptyPair(() => hear()), heard };
};

/** The interface says number 1: label 10 of the framed serial messages (secondary), four bytes, the lowest first. */
const NUMBER_ONE = Uint8Array.of(0x7e, 10, 4, 0, 1, 0, 0, 0, 0xe7);

const USES: readonly { readonly because: string; readonly use: (plugged: Plugged) => Promise<void> }[] = [
  {
    because: "a line that sent a frame is closed",
    use: async ({ cable, heard }) => {
      const line = framedLine(cable.path);
      await line.open(() => {});
      line.send(sample(1));
      await heard;
      await line.close();
    },
  },
  {
    because: "a line is opened again before it is closed",
    use: async ({ cable }) => {
      const line = framedLine(cable.path);
      await line.open(() => {});
      await line.open(() => {});
      await line.close();
    },
  },
  {
    because: "a line lost its cable while it asked who is there",
    use: async ({ cable }) => {
      const line = framedLine(cable.path);
      let lose = () => {};
      const lost = new Promise<void>((resolve) => {
        lose = resolve;
      });
      await line.open(() => lose());
      cable.pullOut();
      await lost;
      await line.close();
    },
  },
  {
    because: "a line met a stranger and was not opened",
    use: async ({ cable, heard }) => {
      const opening = framedLine(cable.path).open(() => {}, { known: { number: "2", usb: "" }, met: () => {} });
      await heard;
      cable.taken();
      cable.say(NUMBER_ONE);
      await expect(opening).rejects.toMatchObject({ name: "StrangerError" });
    },
  },
];

test.each(USES)(`$because: ${OPENINGS} times over, not one descriptor stays open`, async ({ use }) => {
  const stayed: number[] = [];
  for (let opening = 0; opening < OPENINGS; opening += 1) {
    const plugged = plugIn();
    const devices = [plugged.cable.path, "/dev/ptmx"].map((path) => statSync(path).rdev);
    await use(plugged);
    plugged.cable.pullOut();
    await plugged.cable.gone;
    stayed.push(devices.flatMap(descriptorsOf).length);
  }
  expect(stayed).toEqual(Array.from({ length: OPENINGS }, () => 0));
});
