import { expect, test } from "vitest";
import { lineDecoder } from "../kit/line-decoder.ts";
import { ptyPair } from "../kit/pty.ts";
import type { TerminalRun } from "../kit/terminal.ts";
import { play } from "./play.ts";

/** The profile: pan in slots 1 and 2, tilt in 3 and 4, coarse first. */
const panOf = ([coarse = 0, fine = 0]: readonly number[]) => 256 * coarse + fine;
const tiltOf = ([, , coarse = 0, fine = 0]: readonly number[]) => 256 * coarse + fine;
/** 90 degrees of -270 to 270, worked: 65535 * 360 / 540; between two values, so that it is crossed once. */
const AT_90 = 43690.5;
/** The fixture's lag of 0.3 s, and a person of 0.4 s who is now a little earlier, now a little later. */
const DELAYS = [28, 26, 30, 27, 29];

/** A person who watches the frames on the wire as if they were the fixture, and presses so many frames after each event. */
class Presser {
  private due: number[] = [];
  private count = 0;
  private before: readonly number[] | undefined;
  sees: (before: readonly number[], now: readonly number[]) => boolean = () => false;
  readonly press: () => void;

  constructor(press: () => void) {
    this.press = press;
  }

  watch(now: readonly number[]): void {
    if (this.before && this.sees(this.before, now)) this.due.push(DELAYS[this.count++ % DELAYS.length]!);
    this.before = now;
    this.due = this.due.map((left) => left - 1);
    if (this.due.some((left) => left === 0)) this.press();
    this.due = this.due.filter((left) => left > 0);
  }
}

const crosses90 = (before: readonly number[], now: readonly number[]) =>
  panOf(before) !== panOf(now) && (panOf(before) - AT_90) * (panOf(now) - AT_90) <= 0;
const comesToLowEnd = (before: readonly number[], now: readonly number[]) => tiltOf(before) > 0 && tiltOf(now) === 0;

const digitOf = async (run: TerminalRun, words: string): Promise<string> =>
  new RegExp(`(\\d)  .*${words}`).exec(await run.until(words))![1]!;

test("from presses to the place, back to the spot within its interval, and a test that settles an end, byte for byte on the wire", async () => {
  // Tilt ends high: no press falls behind the end of its step.
  const steps = ["{ sweep: Pan, deg_per_s: 180, passes: 10 }", "{ sweep: Tilt, deg_per_s: 135, passes: 7 }"];
  const packets: (readonly number[])[] = [];
  const person = new Presser(() => run.type(" "));
  const decoder = lineDecoder((packet) => {
    packets.push(packet);
    person.watch(packet);
  });
  const pair = ptyPair(decoder.take);
  // Two and a half times as fast as on the bench; the person keeps pace by the frames.
  const run = play({ steps, port: pair.path, beat: 10 });
  await run.until("BEFORE ANYTHING MOVES");
  pair.taken();
  await run.press("c", /^ {2}PAN$/m);
  person.sees = crosses90;

  // Ten presses, five each way.
  await run.until("PAN: WHAT DID YOU SEE?", 120_000);
  person.sees = () => false;
  expect(run.screen()).toContain("Pressed 10 times in this step.");
  run.type(await digitOf(run, "jerks or hesitates"));
  await run.until("Named: pan jerks or hesitates.");
  const found = (await run.press("\r", "WHERE IT HAPPENED: PAN")).replaceAll(/\s+/g, " ");
  const told =
    /Both ways, (?:about )?a quarter turn from mid-travel towards the high end \((\d+) degrees\), plus or minus/.exec(
      found,
    );
  // The terminal, two programs and their scheduling lie between the frame and the key, both ways alike.
  expect(Math.abs(Number(told?.[1]) - 90)).toBeLessThanOrEqual(8);
  const strip = run.screen().split("\n");
  const travel = strip.findIndex((row) => row.includes("|---"));
  expect(strip[travel]).toMatch(/^ {2}\|-+\[=*\]-+\|$/);
  for (const row of [strip[travel - 1]!, strip[travel + 1]!]) expect(row).toMatch(/^ +[<>\d ]+$/);

  // Back there: it arrives, and then stays between the two places that the screen names.
  const from = packets.length;
  const spot = /between (\d+\.?\d*) and (\d+\.?\d*) degrees/.exec(
    await run.press("r", "BACK AT THE FAULT POSITION: PAN"),
  )!;
  const raws = [Number(spot[1]), Number(spot[2])].map((degrees) => (65535 * (degrees + 270)) / 540);
  // As exactly as a tenth of a degree on the screen says it.
  const [low = 0, high = 0] = [raws[0]! - 7, raws[1]! + 7];
  const inside = (packet: readonly number[]) => panOf(packet) >= low && panOf(packet) <= high;
  await run.until(() => packets.slice(from).filter(inside).length > 200);
  const arrived = packets.findIndex((packet, n) => n >= from && inside(packet));
  await run.press("\r", "WHERE IT HAPPENED: PAN");
  expect(packets.slice(arrived).filter((packet) => !inside(packet))).toEqual([]);
  const places = new Set(packets.slice(arrived).map(panOf));
  expect(Math.max(...places) - Math.min(...places)).toBeGreaterThan(0.8 * (raws[1]! - raws[0]!));

  // On with the run: presses at the low end of tilt, which full sweeps alone cannot settle.
  await run.press("\r", /^ {2}TILT$/m);
  person.sees = comesToLowEnd;
  await run.until("TILT: WHAT DID YOU SEE?");
  run.type(await digitOf(run, "jerks or hesitates"));
  await run.until("Named: tilt jerks or hesitates.");
  const open = await run.press("\r", "WHERE IT HAPPENED: TILT");
  expect(open).toMatch(/inconclusive/i);
  expect(open).toMatch(/1 {2}sweep short of both ends, \d+ s;/);
  await run.press("1", "Sweep short of both ends");
  await run.until("TILT: WHAT DID YOU SEE?");
  const settled = await run.press("\r", "WHERE IT HAPPENED: TILT");
  expect(settled).toContain("Only on coming to the low end.");
  const ranked = (screen: string) => /(?:Likely|Most likely|Possible) now: .*\n.*/.exec(screen)![0];
  expect(ranked(settled)).not.toBe(ranked(open));
  run.type("s");
  expect(await run.ended).toBe(4);
  pair.pullOut();
  const printed = run.output().slice(run.output().lastIndexOf("\u001b[?1049l")).replaceAll(/\s+/g, " ");
  expect(printed).toContain("tilt only near an end of the travel");
}, 240_000);
