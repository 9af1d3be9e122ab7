import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { built } from "../kit/built.ts";
import { inTerminal, type TerminalRun } from "../kit/terminal.ts";

export interface Play {
  readonly steps: readonly string[];
  readonly mode?: "attended" | "hands-off";
  readonly serial?: string;
  readonly plain?: boolean;
  readonly distance?: boolean;
  /** The frames go to this port instead of a simulated fixture. */
  readonly port?: string;
  /** Milliseconds between frames; less than 25 makes time pass faster. */
  readonly beat?: number;
  readonly env?: Readonly<Record<string, string>>;
  /** Runs the line in a shell of the terminal, to look at the terminal afterwards. */
  readonly thenInShell?: string;
}

/** The spot that comes with Limber, homing, striking and travelling in no time: the shortest run that has everything in it. */
export const quickSpot = (): string =>
  readFileSync("profiles/spot-16bit.yaml", "utf8")
    .replace(/(Pan: .*full_travel_s: )2.6/, "$10.4")
    .replace(/(Tilt: .*full_travel_s: )1.6/, "$10.4")
    .replace(/power_up_s: \d+/, "power_up_s: 0.5")
    .replace(/strike_s: \d+/, "strike_s: 0.2")
    .replace(/is: lamp-on, at: 130, hold_s: 5/, "is: lamp-on, at: 130, hold_s: 0.5");

/** A simulated run in real seconds under a real pseudo-terminal. */
export const play = ({ steps, mode = "attended", serial = "A-17", thenInShell, ...more }: Play): TerminalRun => {
  const { plain = false, distance = false, port, beat, env = {} } = more;
  const folder = mkdtempSync(join(tmpdir(), "limber-screen-"));
  const [profile, sequence] = [join(folder, "spot.yaml"), join(folder, "short.yaml")];
  writeFileSync(profile, quickSpot());
  writeFileSync(
    sequence,
    `sequence: short\ntitle: Short check\nsteps:\n${steps.map((one) => `  - ${one}\n`).join("")}`,
  );
  const order = JSON.stringify({ profile, sequence, mode, set: [], serial, plain, distance, port, beat });
  const args = ["test/ui/play.mjs", built(), order];
  if (thenInShell === undefined) return inTerminal(args, { env });
  const script = `"$0" "$@"; ${thenInShell}`;
  return inTerminal(["-c", script, process.execPath, ...args], { env, program: "/bin/sh" });
};

/** The end of a run: whatever is still offered is declined. Resolves with the exit code. */
export const over = async (run: TerminalRun): Promise<number> => {
  await run.until("WHAT NEXT?").then(
    () => run.press("\r", () => false).catch(() => {}),
    () => {},
  );
  return await run.ended;
};
