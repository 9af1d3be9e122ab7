import { parseBench } from "../bench/bench.ts";
import type { Journal } from "../ports.ts";
import { hintFor } from "../problem/nearest.ts";
import { bad, good, problem, type Result } from "../problem/problem.ts";
import { parseProfile } from "../profile/parse.ts";
import type { EventBody } from "../record/event.ts";
import { type RunView, viewOf } from "../record/view.ts";
import { parseSequence } from "../sequence/parse.ts";
import type { Material } from "./data.ts";

/** A run as the journal holds it, with the data files as they were when it was made. */
export interface KeptRun {
  readonly run: string;
  readonly bodies: readonly EventBody[];
  readonly view: RunView;
  readonly opened: NonNullable<RunView["opened"]>;
  readonly material: Material;
}

/** A run by its name, or by the beginning of it when only one fits. */
export const keptRun = async (journal: Journal, name: string): Promise<Result<KeptRun>> => {
  const named = await runNamed(journal, name);
  if (!named.ok) return named;
  const run = named.value;
  const bodies = (await journal.events(run)).map(({ body }) => body);
  const view = viewOf(bodies);
  const { opened } = view;
  if (!opened) throw new Error(`Bug: the run ${run} is listed and never began`);
  const material = materialOf(opened);
  return material.ok ? good({ run, bodies, view, opened, material: material.value }) : material;
};

const runNamed = async (journal: Journal, name: string): Promise<Result<string>> => {
  const beginning = (await journal.briefs({ kind: "named", beginning: name })).map(({ run }) => run);
  const [run, ...others] = beginning.includes(name) ? [name] : beginning;
  if (run === undefined) {
    const names = (await journal.briefs({ kind: "all" })).map((brief) => brief.run);
    const hint = hintFor(name, names) ?? '"limber runs" lists them';
    return bad(problem(name, "there is no run of this name in the journal", hint));
  }
  if (others.length === 0) return good(run);
  return bad(problem(name, `${beginning.length} runs begin like this`, beginning.slice(0, 5).join(", ")));
};

/** The very texts the run was made from, not today's files. */
const materialOf = ({ profile, sequence, bench }: NonNullable<RunView["opened"]>): Result<Material> => {
  const parsed = {
    profile: parseProfile(`${profile.name} (as kept in the journal)`, profile.text),
    sequence: parseSequence(`${sequence.name} (as kept in the journal)`, sequence.text),
    bench: parseBench(`${bench.name} (as kept in the journal)`, bench.text),
  };
  if (!parsed.profile.ok) return parsed.profile;
  if (!parsed.sequence.ok) return parsed.sequence;
  if (!parsed.bench.ok) return parsed.bench;
  return good({
    profile: { value: parsed.profile.value, text: profile.text },
    sequence: { value: parsed.sequence.value, text: sequence.text },
    bench: { value: parsed.bench.value, text: bench.text },
  });
};
