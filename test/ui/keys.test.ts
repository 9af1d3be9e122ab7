import fc from "fast-check";
import { expect, test } from "vitest";
import { KeyReader } from "../../src/ui/keys.ts";

const ESC = "\u001b";

/** What terminals send: ECMA-48 sequences and the DEC keypad's own (from memory). */
test.each([
  { sent: "  ", keys: ["space", "space"], because: "two presses in one read are two" },
  { sent: "a3", keys: ["a", "3"], because: "characters are themselves" },
  { sent: "\r\n", keys: ["enter", "enter"], because: "either is the enter key" },
  { sent: `${ESC}[6~${ESC}[5~`, keys: ["pagedown", "pageup"], because: "presenter remotes send these" },
  { sent: `${ESC}[A${ESC}OB`, keys: ["up", "down"], because: "arrows come in two spellings" },
  { sent: `${ESC} `, keys: ["escape", "space"], because: "an escape and a press in one read are both" },
  { sent: `${ESC}[1;5C`, keys: ["another key"], because: "a key nobody named is still a sign of life" },
  { sent: "\u0003", keys: ["ctrl-c"], because: "in raw mode it is a character" },
  { sent: "\u007f\b", keys: ["backspace", "backspace"], because: "terminals differ" },
  {
    sent: `${ESC}[200~stop${ESC}[201~s`,
    keys: ["pasted:stop", "s"],
    because: "what is pasted is text, whatever letters it has; the key after it is a key",
  },
  { sent: "é字", keys: ["é", "字"], because: "notes are written in any language" },
])("$sent is read as $keys: $because", ({ sent, keys }) => {
  expect(new KeyReader().read(sent)).toEqual(keys);
});

test("an escape that may begin a sequence waits; nothing more comes, so it was the escape key", () => {
  const reader = new KeyReader();
  expect(reader.read(ESC)).toEqual([]);
  expect(reader.undecided).toBe(true);
  expect(reader.settle()).toEqual(["escape"]);
  expect(reader.undecided).toBe(false);
});

test("a paste that is cut off is what came of it, and no command", () => {
  const reader = new KeyReader();
  expect(reader.read(`${ESC}[200~sss`)).toEqual([]);
  expect(reader.settle()).toEqual(["pasted:sss"]);
});

test("a sequence cut anywhere by a slow link is one key", () => {
  const sent = `x${ESC}[6~ ${ESC}OA${ESC}[1;5C\r`;
  const whole = new KeyReader().read(sent);
  fc.assert(
    fc.property(fc.array(fc.nat({ max: sent.length }), { maxLength: 6 }), (cuts) => {
      const reader = new KeyReader();
      const places = [0, ...cuts.toSorted((a, b) => a - b), sent.length];
      const keys = places.slice(1).flatMap((end, at) => reader.read(sent.slice(places[at], end)));
      expect([...keys, ...reader.settle()]).toEqual(whole);
    }),
  );
});

test("whatever comes is read to its end", () => {
  fc.assert(
    fc.property(fc.string({ unit: "binary" }), (sent) => {
      const reader = new KeyReader();
      reader.read(sent);
      reader.settle();
      expect(reader.undecided).toBe(false);
    }),
  );
});
