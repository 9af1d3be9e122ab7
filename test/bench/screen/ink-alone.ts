import { performance } from "node:perf_hooks";
import { setImmediate as turn } from "node:timers/promises";
import { render } from "ink";
import { createElement } from "react";
import { rackOfOne, rackQuestionOf } from "../../../src/run/batch/batch.ts";
import { keyPlan } from "../../../src/ui/key-plan.ts";
import { pageOf } from "../../../src/ui/page.ts";
import { Pages, Sheet } from "../../../src/ui/screen.ts";
import { look, type Seen } from "../../../src/ui/seen.ts";
import { clearDesk } from "../../../src/ui/sight.ts";
import { counter, moments, silence, wandering } from "./stage.ts";

/** The same pages drawn as ink draws by itself, at the same rate: what one has without a painter of one's own. */
export const inkAlone = async (seconds: number) => {
  const { stdout, bytes } = counter();
  const costs: number[] = [];
  const plan = keyPlan({ press: ["space"], again: ["a"], stop: ["s"] });
  let pages: Pages | undefined;
  let seen: Seen | undefined;
  let at = 0;
  for (const { session, frame } of moments(seconds)) {
    at += 50;
    const start = performance.now();
    seen = look(seen, wandering(frame), at);
    const batch = rackOfOne(session, "r");
    const question = rackQuestionOf(batch);
    const size = { columns: 80, rows: 24 };
    const rest = {
      notice: undefined,
      size,
      letters: "usual",
      quiet: 0,
      listening: true,
      refused: undefined,
      sincePress: 100,
    } as const;
    const rows = pageOf({ batch, desk: clearDesk(question), plan, frame, shown: [seen], at, ...rest });
    const page = { rows, drawn: { batch, question } };
    if (pages) pages.put(page);
    else {
      pages = new Pages(page);
      const options = { stdout, stdin: silence(), maxFps: 0, exitOnCtrlC: false, patchConsole: false };
      render(createElement(Sheet, { pages, colour: "colour" }), options);
    }
    await turn();
    costs.push(performance.now() - start);
  }
  return { bytes: bytes(), costs };
};
