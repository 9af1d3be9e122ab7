import stringWidth from "string-width";
import { expect } from "vitest";
import { rackQuestionOf } from "../../src/run/batch/batch.ts";
import { guardedBy } from "../../src/run/batch/guarded.ts";
import { keyPlan } from "../../src/ui/key-plan.ts";
import { pageOf } from "../../src/ui/page.ts";
import { pressed } from "../../src/ui/pressing.ts";
import { clearDesk, type Desk, deskFor, type Sight, stageIn } from "../../src/ui/sight.ts";
import type { DrivenRack } from "../kit/driven-rack.ts";
import { shippedBench } from "../kit/shipped.ts";
import { AGREE, sightOfAll, textOf } from "./sights.ts";

/** The keys of the bench that is shipped. */
export const RACK_PLAN = keyPlan(shippedBench().buttons);

/** A rack at its screen: keys go the way that keys go. */
export class RackTypist {
  desk: Desk = clearDesk(undefined);
  readonly rack: DrivenRack;

  constructor(rack: DrivenRack) {
    this.rack = rack;
  }

  press(...keys: readonly string[]): this {
    for (const one of keys) {
      const { batch } = this.rack;
      const guarded = guardedBy(stageIn(batch));
      const key = one === AGREE && guarded ? RACK_PLAN.own[guarded] : one;
      const [desk, inputs] = pressed(this.desk, key, { batch, question: rackQuestionOf(batch) }, RACK_PLAN);
      this.desk = desk;
      for (const input of inputs) this.rack.send(input, 300);
    }
    return this;
  }

  playOut(): this {
    this.rack.playOut();
    return this;
  }

  sight(over: Partial<Sight> = {}): Sight {
    const { batch } = this.rack;
    return sightOfAll(batch, { desk: deskFor(this.desk, rackQuestionOf(batch)), plan: RACK_PLAN, frame: 300, ...over });
  }

  page(over: Partial<Sight> = {}): string {
    const rows = pageOf(this.sight(over));
    expect(rows.length).toBeLessThan(24);
    for (const { text } of rows) expect(stringWidth(text), text).toBeLessThanOrEqual(80);
    return `${textOf(rows)}\n`;
  }
}
