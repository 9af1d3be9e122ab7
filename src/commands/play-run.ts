import { singleRun } from "../batch/single.ts";
import type { Deed } from "../batch/wish.ts";
import { whatNext } from "../faults/next.ts";
import { rank } from "../faults/rank.ts";
import type { Clock, Journal, Log, Voice, Watcher } from "../ports.ts";
import { kindOf, knownOf } from "../presses/known.ts";
import { fittedOf, type Profile } from "../profile/profile.ts";
import { whoPressed } from "../record/delay-samples.ts";
import { answersOf, observationsOf } from "../record/observations.ts";
import { type RunView, viewOf } from "../record/view.ts";
import { type JobSheet, jobSheetOf, keptOf } from "../report/job-sheet.ts";
import { type OpenedLine, onlyLine } from "../run/doors.ts";
import { Shell } from "../run/shell.ts";
import type { Input } from "../session/input.ts";
import type { Job } from "../session/job.ts";
import type { Session } from "../session/session.ts";
import { EXIT, type ExitCode } from "./exit.ts";
import { comparedIn, standingNow } from "./fixture-past.ts";
import { constantsIn } from "./measured.ts";
import { shopHistory } from "./shop-history.ts";

/** The real doors of one run, chosen by its command. */
export interface RunDoors {
  /** In no real time it has to know when to wait. */
  readonly clock: (busy: () => boolean) => Clock;
  readonly line: OpenedLine;
  readonly journal: Journal;
  /** A screen draws the frame that is out. */
  readonly watcher: (frame: () => number) => Watcher;
  readonly voice: Voice;
  readonly log: Log;
  readonly byHand: (deed: Deed) => void;
  readonly signals: (listen: (name: string) => void) => () => void;
  readonly mishaps: (listen: (error: unknown) => void) => () => void;
}

/** Plays a session to its end and says how it ended. */
export const playRun = async (session: Session, run: string, doors: RunDoors): Promise<Session> => {
  const shell: Shell<Session, Input> = new Shell(singleRun(session, run), {
    ...doors,
    lines: onlyLine(doors.line),
    clock: doors.clock(() => shell.busy()),
    watcher: doors.watcher(() => shell.frame()),
    bench: session.job.bench.name,
  });
  return await shell.run();
};

/** What the shop knows beside a run: what its finds have taught, and how quick its people press. */
export type ShopKnowledge = Pick<Job, "learned" | "constants">;

export const knowledgeIn = async (journal: Journal): Promise<ShopKnowledge> => ({
  learned: (await shopHistory(journal)).learned,
  constants: await constantsIn(journal),
});

/** The job sheet of a run as it stands in the journal, by the shop's own numbers where there are any. */
export const sheetFrom = async (
  journal: Journal,
  run: string,
  profile: Profile,
  { learned, constants }: ShopKnowledge,
): Promise<JobSheet> => {
  const events = await journal.events(run);
  const view = viewOf(events.map(({ body }) => body));
  const known = knownOf(constants, whoPressed(events) ?? "", kindOfRun(view, profile));
  const seen = [fittedOf(profile), observationsOf(view, profile, known), answersOf(view)] as const;
  const [ranking, advice] = [rank(...seen, learned), whatNext(...seen, [], learned)];
  return jobSheetOf(keptOf(events), view, profile, {
    ranking,
    advice,
    known,
    compared: await comparedIn(journal, view),
    standing: view.opened && (await standingNow(journal, view.opened)),
  });
};

const kindOfRun = ({ opened }: RunView, { name }: Profile): string =>
  kindOf({ name, simulated: opened?.simulated ?? false });

export const exitFor = ({ stage }: Session): ExitCode => {
  if (stage.kind !== "finished" || stage.how === "failed") return EXIT.world;
  return stage.how === "stopped" ? EXIT.stopped : EXIT.done;
};
