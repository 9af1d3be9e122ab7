import { describe, expect, test } from "vitest";
import { keysOf } from "../../src/domain/keys.ts";
import { safeText } from "../../src/domain/problem/shown-text.ts";
import { saidInWords } from "../../src/reports/fixture-said.ts";
import { readingText } from "../../src/reports/rdm-text.ts";
import { saidBody } from "../../src/run/events/fixture-said.ts";
import { emptyRun } from "../../src/run/events/view.ts";
import { chanceFrom } from "../../src/sim/chance.ts";
import { Cable } from "../../src/sim/rdm/cable.ts";
import { plainDevice, uidOf } from "../../src/sim/rdm/device.ts";
import type { Utterance } from "../../src/sim/rdm/responder.ts";
import { readFixture } from "../../src/wire/rdm/fixture.ts";
import { uidIn } from "../../src/wire/rdm/packet.ts";
import { MANNERS } from "../wire/rdm/manners.ts";
import { play } from "../wire/rdm/play.ts";

const NAME = "7FF0:00000002";
const read = (spoil: (said: Utterance) => Utterance | undefined) => {
  const cable = new Cable([plainDevice(uidOf(NAME))], chanceFrom(1), { lost: 0, spoil });
  const reading = play(readFixture(uidIn(NAME)!), (packet) => cable.send(packet));
  const { requests } = cable.traffic;
  return {
    reading,
    requests,
    lines: [...readingText(reading), ...saidInWords({ ...emptyRun, said: [saidBody(reading)] })],
  };
};
/** What a terminal would obey: control characters and marks of format. */
const OBEYED = /[\p{Cc}\p{Cf}]/u;

describe("everything is read from a fixture whose answers are bad in one way", () => {
  test.each(keysOf(MANNERS))(
    "%s: told in words, after a bounded number of requests, and nothing that a terminal obeys",
    (manner) => {
      const { reading, requests, lines } = read(MANNERS[manner]);
      expect(reading.identity.troubles.length).toBeGreaterThan(0);
      for (const line of lines) expect(safeText(line)).not.toMatch(OBEYED);
      expect(reading.identity.troubles.join(" ")).not.toMatch(OBEYED);
      expect(requests).toBeLessThan(700);
    },
  );
});

test.each([3, 12, 25])(
  "it vanishes after %i answers: what it said until then is kept, and that it is gone is told",
  (answers) => {
    const whole = read((said) => said);
    let left = answers;
    const { reading, requests, lines } = read((said) => (left-- > 0 ? said : undefined));
    expect(requests).toBeLessThan(whole.requests + 20);
    expect(reading.identity.troubles.join(" ")).toContain("no answer");
    expect(lines.length).toBeLessThan(whole.lines.length);
    expect(reading.identity.uid).toBe(NAME);
  },
);
