import { FRAME_SECONDS } from "../domain/units.ts";
import type { ControlBuild, ControlCommand } from "./build.ts";

/** How far beside its level a command is still taken. */
const NEAR = 2;

/** The control slot: a command is obeyed once when its level has stood long enough. */
export class Control {
  private held_s = 0;
  private held: ControlCommand | undefined;
  private readonly build: ControlBuild;
  constructor(build: ControlBuild) {
    this.build = build;
  }

  /**
   * The command that falls due in this frame, once its level was held for as long as it must; undefined where none does.
   * `level` is that of the command's slot, 0 to 255.
   */
  take(level: number): ControlCommand | undefined {
    const command = this.build.commands.find(({ at }) => Math.abs(at - level) <= NEAR);
    if (command !== this.held) this.held_s = 0;
    this.held = command;
    if (!command) return undefined;
    const before = this.held_s;
    this.held_s += FRAME_SECONDS;
    const due = command.hold_s - 1e-9;
    return before < due && this.held_s >= due ? command : before === 0 && command.hold_s === 0 ? command : undefined;
  }
}
