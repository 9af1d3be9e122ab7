import { describe, expect, test } from "vitest";
import { strangeness } from "../../../src/run/events/interface-met.ts";

const CABLE = "0403:6001 A1B2C3";

describe("whether the interface that answers is the one before", () => {
  test.each([
    { known: { number: "", usb: "" }, met: { number: "", usb: "" }, because: "neither says anything" },
    { known: { number: "", usb: "" }, met: { number: "7", usb: CABLE }, because: "nothing was known before" },
    { known: { number: "7", usb: CABLE }, met: { number: "7", usb: CABLE }, because: "everything is the same" },
    { known: { number: "7", usb: CABLE }, met: { number: "7", usb: "" }, because: "its own number is proof enough" },
    { known: { number: "", usb: CABLE }, met: { number: "7", usb: CABLE }, because: "it says more than before" },
  ])("the same, as far as can be told: $because", ({ known, met }) => {
    expect(strangeness(known, met)).toBeUndefined();
  });

  test.each([
    {
      known: { number: "7", usb: "" },
      met: { number: "8", usb: "" },
      words: "it says it is number 8; the one before was number 7",
    },
    {
      known: { number: "7", usb: "" },
      met: { number: "", usb: "" },
      words: "it does not say its number; the one before was number 7",
    },
    {
      known: { number: "7", usb: CABLE },
      met: { number: "7", usb: "0403:6001 ZZZ" },
      words: "on USB it is 0403:6001 ZZZ; the one before was 0403:6001 A1B2C3",
    },
    {
      known: { number: "", usb: CABLE },
      met: { number: "", usb: "" },
      words: "the system does not say what it is; the one before was 0403:6001 A1B2C3",
    },
  ])("to be asked about: $words", ({ known, met, words }) => {
    expect(strangeness(known, met)).toBe(words);
  });
});
