import { randomBytes } from "node:crypto";
import { fittedOf, type Profile } from "../../data/profile/profile.ts";
import { FAULT_IDS } from "../../diagnosis/model/knowledge/faults.ts";
import { rank, sayChange } from "../../diagnosis/model/rank.ts";
import { bad, good, hintFor, problem, type Result } from "../../domain/problem/problem.ts";
import { holdPointWords } from "../../domain/trade/hold-points.ts";
import { holdsBefore, INSPECTION_IDS, type inspection } from "../../domain/trade/inspections.ts";
import { EVENT_VERSION, type EventBody } from "../../run/events/event.ts";
import { answersOf, observationsOf } from "../../run/events/observations.ts";
import { type RunView, viewOf } from "../../run/events/view.ts";
import type { Journal } from "../../run/ports.ts";
import { EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import { keptRun } from "../fixture/kept-run.ts";
import { knowledgeIn } from "../fixture/play-run.ts";
import { openHere } from "./with-journal.ts";

/** What is written of work by hand: in which journal, by whom, and what they add in words. */
export interface ByHandOptions {
  readonly journal: string;
  readonly person: string;
  readonly note: string;
}

/** Keeps what an inspection showed, and says which confirmations come before it. */
export const keepLook = (run: string, id: string, answer: string, options: ByHandOptions): Promise<ExitCode> =>
  keep(run, lookBody(id, answer, options.note), options);

const lookBody = (id: string, answer: string, note: string): Result<EventBody> => {
  const known = INSPECTION_IDS.find((one) => one === id);
  const said = (["good", "bad", "unsure"] as const).find((one) => one === answer);
  if (known && said) return good({ kind: "inspected", inspection: known, answer: said, note });
  return bad(
    ...(known
      ? []
      : [
          problem(
            id,
            "is not an inspection",
            hintFor(id, INSPECTION_IDS) ?? '"limber faults RUN" names those that are worth it',
          ),
        ]),
    ...(said ? [] : [problem(answer, "is not a valid answer", "type good, bad or unsure")]),
  );
};

/** Keeps what turned out to be wrong: a fault by its id, "nothing", or anything else in words. */
export const keepFind = (run: string, what: string, options: ByHandOptions): Promise<ExitCode> =>
  keep(run, findBody(what, options.note), options);

const findBody = (what: string, note: string): Result<EventBody> => {
  const fault = FAULT_IDS.find((id) => id === what);
  if (fault) return good({ kind: "found", what: "fault", fault, note });
  if (what === "nothing") return good({ kind: "found", what: "nothing", note });
  if (what === "other" && note !== "") return good({ kind: "found", what: "something-else", note });
  return bad(
    problem(
      what,
      "is not a known fault",
      hintFor(what, FAULT_IDS) ?? 'a fault as "limber faults RUN" names it, nothing, or other with --note',
    ),
  );
};

const keep = async (
  name: string,
  body: Result<EventBody>,
  { journal: file, person }: ByHandOptions,
): Promise<ExitCode> => {
  if (!body.ok) return refuse(body.problems);
  const journal = await openHere(file);
  try {
    const kept = await keptRun(journal, name);
    if (!kept.ok) return refuse(kept.problems);
    const { run, material } = kept.value;
    const id = `${run}-hand-${randomBytes(6).toString("hex")}`;
    await journal.append({
      id,
      v: EVENT_VERSION,
      bench: material.bench.value.name,
      person,
      at: new Date().toISOString(),
      run,
      body: body.value,
    });
    print(`Saved with run ${run}.`);
    if (body.value.kind !== "inspected") return EXIT.done;
    for (const line of [await changeBy(journal, run, material.profile.value), ...before(body.value.inspection)])
      print(line);
    return EXIT.done;
  } finally {
    await journal.close();
  }
};

/** What the inspection that was just kept did to the first answer. */
const changeBy = async (journal: Journal, run: string, profile: Profile): Promise<string> => {
  const view = viewOf((await journal.events(run)).map(({ body }) => body));
  const { learned } = await knowledgeIn(journal);
  const ranked = (inspected: RunView["inspected"]) =>
    rank(fittedOf(profile), observationsOf(view, profile), answersOf({ ...view, inspected }), learned);
  return sayChange(ranked(view.inspected.slice(0, -1)), ranked(view.inspected), "the last inspection");
};

const before = (id: Parameters<typeof inspection>[0]): readonly string[] => [
  "Before any such inspection, as the maker's manual says:",
  ...holdsBefore(id).map((hold) => `  - ${holdPointWords(hold)}`),
];
