import { problem } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import { type ForgottenBench, openShare } from "../../io/share/server.ts";
import { EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import { doorOf } from "./settings.ts";
import { withShare } from "./share.ts";

/**
 * Shuts out a bench that is lost or stolen: whatever it sends from now on is refused. What it sent before stays. Says what
 * whoever owns the database types to take its login away, which no share can do.
 */
export const forgetBench = (journal: string, origin: string): Promise<ExitCode> =>
  withShare(journal, async (_table, settings) => {
    const server = await openShare(doorOf(settings));
    try {
      const forgotten = await server.forget(origin);
      if (!forgotten)
        return refuse([problem(origin, "the share knows no bench of this id", '"limber share status" lists them')]);
      print(`Bench ${safeText(origin)} is forgotten: what it sends from now on is refused.`);
      for (const line of loginLines(forgotten)) print(safeText(line));
      return EXIT.done;
    } finally {
      await server.close();
    }
  });

const loginLines = ({ login, sharedWith }: ForgottenBench): readonly string[] => {
  if (login === undefined)
    return [
      "Its login to the database still works and reads what is shared. Which one that is, this server does not know yet:",
      'it was set up before logins were noted. "limber share join" brings it up to date.',
    ];
  const role = `"${login.replaceAll('"', '""')}"`;
  const hangUp = `  SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE usename = '${login.replaceAll("'", "''")}';`;
  const works = `Its login to the database, ${role}, still works and reads what is shared.`;
  if (sharedWith.length === 0)
    return [
      `${works} No other bench uses it.`,
      "Whoever owns the database takes it away, and ends what is still connected:",
      `  ALTER ROLE ${role} NOLOGIN;`,
      hangUp,
    ];
  return [
    `${works} It cannot be taken from this bench alone. These use it too:`,
    ...sharedWith.map(({ origin, name }) => `  ${origin}  ${name}`),
    "Whoever owns the database gives it a new password, which these benches then need in their address files:",
    `  ALTER ROLE ${role} PASSWORD 'a new password';`,
    hangUp,
    'With a login for each bench that is not needed: "limber guide sharing".',
  ];
};
