import { type Batch, rackOfOne, rackQuestionOf } from "../../src/run/batch/batch.ts";
import { guardedBy } from "../../src/run/batch/guarded.ts";
import type { WatcherInput } from "../../src/run/machine/input.ts";
import type { Session } from "../../src/run/session/session.ts";
import { keyPlan } from "../../src/ui/key-plan.ts";
import { pageOf, type Row } from "../../src/ui/page.ts";
import { pressed } from "../../src/ui/pressing.ts";
import type { Seen } from "../../src/ui/seen.ts";
import { type AloneSight, clearDesk, type Desk, type Drawn, deskFor, type Sight } from "../../src/ui/sight.ts";
import type { Driven } from "../kit/driven.ts";
import { unmarked } from "../kit/of-one.ts";

export const PLAN = keyPlan({ press: ["space", "pagedown"], again: ["a", "pageup"], stop: ["s", "escape"] });

/** Whatever key says yes on the page that lies open: the letter of a guarded one, ENTER on any other. */
export const AGREE = "agree";

/** The run of one fixture, whatever it is called. */
const RUN = "r";

/** What is on the screen of a run of one: its page, and the question that it asks. */
export const drawnOf = (session: Session): Drawn => {
  const batch = rackOfOne(session, RUN);
  return { batch, question: rackQuestionOf(batch) };
};

/** What one key says to a fixture's own run, as an answer to what was drawn of it; at a desk on which nothing lies. */
export const saidTo = (drawn: Drawn, key: string, desk: Desk = clearDesk(drawn.question)): readonly WatcherInput[] =>
  pressed(desk, key, drawn, PLAN)[1].map((input) => unmarked(RUN, input));

/** A sight of a run as it stands, with whatever is asked for instead. */
export const sightOfAll = (batch: Batch, changes: Partial<Sight> = {}): Sight => ({
  batch,
  desk: clearDesk(rackQuestionOf(batch)),
  plan: PLAN,
  frame: 0,
  shown: [],
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

/** The same of a run of one fixture, with what is seen of it. */
export const sightOf = (
  session: Session,
  { seen, ...changes }: Partial<Sight> & { readonly seen?: Seen | undefined } = {},
): AloneSight => ({ ...sightOfAll(rackOfOne(session, RUN), { shown: [seen], ...changes }), session, seen });

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
      const [desk, inputs] = pressed(this.desk, key, drawnOf(session), PLAN);
      this.desk = desk;
      for (const input of inputs) this.run.send(unmarked(RUN, input));
    }
    return this;
  }

  page(changes: Parameters<typeof sightOf>[1] = {}): string {
    const { session } = this.run;
    return textOf(pageOf(sightOf(session, { desk: deskFor(this.desk, drawnOf(session).question), ...changes })));
  }
}

export const textOf = (rows: readonly Row[]): string => rows.map(({ text }) => text.trimEnd()).join("\n");
