import type { RackEffect, Spot } from "../../src/run/batch/effect.ts";
import type { RackInput, RackWorld } from "../../src/run/batch/input.ts";
import { diagnose } from "../../src/run/session/diagnose.ts";
import type { Timed } from "../../src/run/session/input.ts";
import { Player } from "../../src/run/shell/player.ts";

/** A frame on the wire, with what had been heard before it. */
export interface WireFrame {
  readonly universe: number;
  readonly levels: Uint8Array;
}

interface Conducted<State> {
  readonly opening: State;
  readonly spots: readonly Spot[];
  // biome-ignore lint/suspicious/noExplicitAny: a run of one fixture and of many are told different things
  readonly step: (state: State, input: any) => readonly [State, readonly RackEffect[]];
}

/** A run at its wire without doors or clocks: inputs go in, and every frame that the player sends is kept and looked at. */
export class Wired<State> {
  state: State;
  readonly frames: WireFrame[] = [];
  /** Called with every frame, after what led to it. */
  onFrame: (frame: WireFrame) => void = () => {};
  /** Called before an input is taken. */
  onInput: (input: { readonly kind: string }) => void = () => {};
  private readonly conduct: Conducted<State>;
  private readonly player: Player;
  private tickNumber = 0;
  private readonly waiting: (RackInput | RackWorld)[] = [];
  at = 0;

  constructor(conduct: Conducted<State>) {
    this.conduct = conduct;
    this.state = conduct.opening;
    this.player = new Player(
      conduct.spots,
      (universe, levels) => {
        const frame = { universe, levels: levels.slice() };
        this.frames.push(frame);
        this.onFrame(frame);
        return "sent";
      },
      (answers, rig) => this.waiting.push({ kind: "played", answers, rig }),
    );
  }

  send(input: { readonly kind: string }): this {
    this.onInput(input);
    const stamped = { ...input, at: this.at, ...this.player.standing(0) } as Timed<RackInput | RackWorld>;
    const [state, effects] = this.conduct.step(this.state, stamped);
    this.state = state;
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
