import { Option } from "commander";
import { type Family, taking, withPhone } from "../common/command.ts";
import * as option from "../common/options.ts";

/** A working day: fixture after fixture, and what is done and still to do. */
export const shifts: Family = (program, ends) => {
  taking(
    program
      .command("shift")
      .description("one fixture after the other: scan a serial number, watch, sign; the rest is remembered"),
    new Option("--person <initials>", "who watches (usual: as in the shift before)"),
    new Option("--bench <name>", "this bench: a name or a file (usual: as before)"),
    new Option("--output <line>", "DMX line, as for run (usual: as before)"),
    option.toOption(),
    new Option("--sequence <name>", "test plan for every fixture (usual: as before, else quick)"),
    new Option("--hire <name>", "what the fixtures came back from; the board shows it"),
    new Option("--list <file>", "the serial numbers that belong to the hire, one a line"),
    option.shopOption(),
    ...option.severalFixturesOptions(),
  ).action(async ({ set = new Map(), ...given }) => {
    const { shift } = await import("./shift.ts");
    const asBefore = { person: undefined, bench: undefined, output: undefined, to: undefined, sequence: undefined };
    const order = { ...asBefore, hire: undefined, list: undefined, watcher: undefined, ...given, set, json: false };
    await ends(withPhone(given, (phone) => shift({ ...order, phone })));
  });

  taking(
    program
      .command("board")
      .description("today, or a hire: what is done, what waits and for what, what is still to come"),
    new Option("--hire <name>", "a hire (usual: that of the shift, else today)"),
    new Option("--simulated", "the simulated fixtures instead of the real ones").default(false),
    new Option("--watch", "on the screen, updated until you quit").default(false),
    option.journalOption(),
    option.formOption(["text", "json", "html"]),
    option.outOption(),
    option.jsonOption(),
  ).action(async ({ json, watch, ...given }) => {
    const { showBoard } = await import("./board.ts");
    const shown = watch ? "on the screen" : "once";
    await ends(showBoard({ hire: undefined, out: undefined, ...given, as: json ? "json" : given.as, shown }));
  });
};
