import type { Batch } from "../../src/run/batch/batch.ts";
import { leftSpot } from "../../src/run/batch/change.ts";
import { stepRack } from "../../src/run/batch/step.ts";
import { diagnose } from "../../src/run/machine/diagnose.ts";
import type { Input, Stamped } from "../../src/run/machine/input.ts";
import { Player } from "../../src/run/shell/player.ts";

/** A frame on the wire, with what had been heard before it. */
export interface WireFrame {
  readonly universe: number;
  readonly levels: Uint8Array;
}

/** A run at its wire without doors or clocks: inputs go in, and every frame that the player sends is kept and looked at. */
export class Wired {
  batch: Batch;
  readonly frames: WireFrame[] = [];
  /** Called with every frame, after what led to it. */
  onFrame: (frame: WireFrame) => void = () => {};
  /** Called before an input is taken. */
  onInput: (input: { readonly kind: string }) => void = () => {};
  private readonly player: Player;
  private tickNumber = 0;
  private readonly waiting: Input[] = [];
  at = 0;

  constructor(opening: Batch) {
    this.batch = opening;
    this.player = new Player(
      opening.members.map(({ spot }) => spot),
      (universe, levels) => {
        const frame = { universe, levels: levels.slice() };
        this.frames.push(frame);
        this.onFrame(frame);
        return "sent";
      },
      (answers, rig) => this.waiting.push({ kind: "played", answers, rig }),
      opening.members.flatMap(({ spot, session }) => leftSpot(spot, session.leftAt)),
    );
  }

  send(input: { readonly kind: string }): this {
    this.onInput(input);
    const stamped = { ...input, at: this.at, ...this.player.standing(0) } as Stamped;
    const [batch, effects] = stepRack(this.batch, stamped);
    this.batch = batch;
    for (const effect of effects) {
      if (effect.kind === "play") this.player.play(effect.key, effect.parts, effect.from);
      else if (effect.kind === "go-dark") this.player.goDark();
      else if (effect.kind === "diagnose")
        this.waiting.push({ kind: "diagnosed", answers: effect.key, diagnosis: diagnose(effect.findings) });
    }
    return this;
  }

  /** So many frames go out; what comes to its end is told. */
  pass(frames: number): this {
    for (let n = 0; n < frames; n++) {
      this.at += 0.025;
      this.player.tick({ frame: this.tickNumber++, late: 0 });
      for (const input of this.waiting.splice(0)) this.send(input);
    }
    return this;
  }
}
