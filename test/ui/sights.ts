import { guardedBy } from "../../src/run/batch/guarded.ts";

import { questionOf, type Session } from "../../src/run/session/session.ts";
import { clearDesk, type Desk, deskFor } from "../../src/ui/desk.ts";
import { keyPlan } from "../../src/ui/key-plan.ts";
import { pageOf } from "../../src/ui/page.ts";
import { pressed } from "../../src/ui/pressing.ts";
import type { Row } from "../../src/ui/rows.ts";
import type { Sight } from "../../src/ui/sight.ts";
import type { Driven } from "../kit/driven.ts";

export const PLAN = keyPlan({ press: ["space", "pagedown"], again: ["a", "pageup"], stop: ["s", "escape"] });

/** Whatever key says yes on the page that lies open: the letter of a guarded one, ENTER on any other. */
export const AGREE = "agree";

/** A sight of a session as it stands, with whatever is asked for instead. */
export const sightOf = (session: Session, changes: Partial<Sight> = {}): Sight => ({
  session,
  desk: clearDesk(questionOf(session)),
  plan: PLAN,
  frame: 0,
  seen: undefined,
  at: 0,
  quiet: 0,
  listening: true,
  refused: undefined,
  sincePress: 100,
  notice: undefined,
  size: { columns: 80, rows: 24 },
  letters: "usual",
  ...changes,
});

/** A person at the keyboard, everything drawn at once: keys go through the real path into the session. */
export class Typist {
  desk: Desk = clearDesk(undefined);
  readonly run: Driven;

  constructor(run: Driven) {
    this.run = run;
  }

  press(...keys: readonly string[]): this {
    for (const one of keys) {
      const { session } = this.run;
      const guarded = guardedBy(session.stage);
      const key = one === AGREE ? (guarded ? PLAN.own[guarded] : "enter") : one;
      const [desk, inputs] = pressed(this.desk, key, { session, question: questionOf(session) }, PLAN);
      this.desk = desk;
      for (const input of inputs) this.run.send(input);
    }
    return this;
  }

  page(changes: Partial<Sight> = {}): string {
    const { session } = this.run;
    return textOf(pageOf(sightOf(session, { desk: deskFor(this.desk, questionOf(session)), ...changes })));
  }
}

export const textOf = (rows: readonly Row[]): string => rows.map(({ text }) => text.trimEnd()).join("\n");
