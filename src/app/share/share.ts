import { hostname } from "node:os";
import { resolve } from "node:path";
import { createInterface } from "node:readline/promises";
import { identityKey } from "../../domain/problem/identity.ts";
import { problem } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { ShareError } from "../../io/share/connection.ts";
import { type ForgottenBench, openShare, type PostgresShare } from "../../io/share/server.ts";
import { type JournalTable, openTable } from "../../io/store/table.ts";
import { inPlainWords } from "../../io/store/trouble.ts";
import { many } from "../../reports/status-words.ts";
import { complain, EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import { type ExchangeNote, exchangeOnce, level } from "./exchange-once.ts";
import { doorOf, readShareSettings, removeSettings, type ShareSettings, writeSettings } from "./settings.ts";
import { doneInWords, openTwiceInWords, troublesIn } from "./sharer.ts";

/** No frames are sent by these commands: the journal is used on the main thread. */
const PATIENCE_S = 5;

export interface JoinOptions {
  readonly journal: string;
  /** A private file with the server's address; undefined takes the usual environment variables. */
  readonly urlFile: string | undefined;
  readonly shop: string;
  readonly name: string;
  readonly yes: boolean;
}

/** Takes this journal into a share: the schema is made after a yes, then everything is exchanged. */
export const joinShare = async ({ journal, urlFile, shop, name, yes }: JoinOptions): Promise<ExitCode> => {
  const address =
    urlFile === undefined ? ({ kind: "environment" } as const) : ({ kind: "file", file: resolve(urlFile) } as const);
  const settings: ShareSettings = { version: 1, address, shop, name: name === "" ? hostname() : name };
  const server = await openShare(doorOf(settings));
  try {
    if (!(await agreed(server, yes))) return EXIT.input;
    await server.migrate();
    return await withTable(journal, async (table) => {
      await server.join(ownOf(table));
      writeSettings(journal, settings);
      print(`Joined as bench ${ownOf(table)}, "${safeText(settings.name)}".`);
      return tell(await exchangeOnce(table, settings, journal));
    });
  } finally {
    await server.close();
  }
};

const ownOf = (table: JournalTable): string => table.share.owns().at(-1) ?? "";

const agreed = async (server: PostgresShare, yes: boolean): Promise<boolean> => {
  const steps = await server.missing();
  print(
    steps === 0
      ? "The share is set up on that server. This bench sends all its events there and receives those of the others."
      : `On that server the schema "limber" is made or brought up to date (${many(steps, "step")}). Then this bench sends all its events there.`,
  );
  if (yes) return true;
  if (process.stdin.isTTY !== true) {
    refuse([problem("share join", "nobody is here to say yes", "--yes")]);
    return false;
  }
  const asking = createInterface({ input: process.stdin, output: process.stdout });
  const answer = await asking.question('Type "yes" to go on: ');
  asking.close();
  return answer.trim().toLowerCase() === "yes";
};

const withTable = async <T>(journal: string, work: (table: JournalTable) => Promise<T>): Promise<T> => {
  let table: JournalTable | undefined;
  try {
    table = openTable(journal, PATIENCE_S);
    return await work(table);
  } catch (error) {
    throw inPlainWords(error, journal);
  } finally {
    table?.close();
  }
};

const tell = (note: ExchangeNote): ExitCode => {
  print(doneInWords(note));
  for (const words of troublesIn(note)) complain(safeText(words));
  const { outcome } = note;
  return outcome.kind === "done" && outcome.refused.length === 0 && !outcome.forgotten ? EXIT.done : EXIT.world;
};

/** Runs a command on a journal that takes part in a share. */
const withShare = async (
  journal: string,
  work: (table: JournalTable, settings: ShareSettings) => Promise<ExitCode>,
): Promise<ExitCode> => {
  const settings = readShareSettings(journal);
  if (!settings) return refuse([problem(journal, "this journal is not in a share", '"limber share join" joins one')]);
  return withTable(journal, (table) => work(table, settings));
};

/** Makes one exchange, now. */
export const shareNow = (journal: string): Promise<ExitCode> =>
  withShare(journal, async (table, settings) => tell(await exchangeOnce(table, settings, journal)));

const noteIn = (json: string): ExchangeNote => JSON.parse(json);

/** Says what is known here of the share; the server is asked, and where it does not answer that is said. */
export const shareStatus = (journal: string, json: boolean): Promise<ExitCode> =>
  withShare(journal, async (table, settings) => {
    level(table);
    const last = table.share.noted();
    const benches = await benchesOf(settings, table.share.follows());
    const status: ShareStatus = {
      bench: ownOf(table),
      name: settings.name,
      shop: settings.shop,
      last: last === undefined ? undefined : noteIn(last),
      benches: benches.map((bench) => ({ ...bench, here: table.share.head(bench.origin)?.number ?? 0 })),
      unsent: benches.length === 0 ? undefined : unsentOf(table, benches),
      newer: table.share.newer(),
      openTwice: table.share.openTwice(),
    };
    if (json) print(JSON.stringify(status, undefined, 2));
    else for (const line of statusLines(status)) print(safeText(line));
    return EXIT.done;
  });

interface ShareStatus {
  readonly bench: string;
  readonly name: string;
  readonly shop: string;
  readonly last: ExchangeNote | undefined;
  readonly benches: readonly (Benches[number] & { readonly here: number })[];
  /** Undefined while the server does not answer. */
  readonly unsent: number | undefined;
  readonly newer: number;
  readonly openTwice: ReturnType<JournalTable["share"]["openTwice"]>;
}

type Benches = Awaited<ReturnType<PostgresShare["benches"]>>;

const benchesOf = async (settings: ShareSettings, follows: readonly string[]): Promise<Benches> => {
  const server = await openShare(doorOf(settings));
  try {
    return await server.benches(follows);
  } catch (error) {
    if (!(error instanceof ShareError)) throw error;
    complain(error.message);
    return [];
  } finally {
    await server.close();
  }
};

const unsentOf = (table: JournalTable, benches: Benches): number => {
  const there = new Map(benches.map(({ origin, number }) => [origin, number]));
  return table.share
    .owns()
    .map((origin) => (table.share.head(origin)?.number ?? 0) - (there.get(origin) ?? 0))
    .reduce((sum, left) => sum + Math.max(0, left), 0);
};

const statusLines = ({
  bench,
  name,
  shop,
  last,
  benches,
  unsent,
  newer,
  openTwice,
}: ShareStatus): readonly string[] => [
  `Bench ${bench}, "${name}"${shop === "" ? "" : `, of ${shop}`}`,
  last ? doneInWords(last) : "Nothing was exchanged yet",
  ...(last ? troublesIn(last).filter((words) => !words.includes(" is open at more than one bench")) : []),
  ...(unsent === undefined || unsent === 0 ? [] : [`${many(unsent, "event")} of this bench not sent yet`]),
  ...(newer > 0 ? [`${many(newer, "event")} from a newer version: kept here, and read when Limber is updated`] : []),
  ...openTwiceInWords(openTwice),
  ...benches.map(
    (one) =>
      `  ${one.origin}  ${one.name}: ${many(one.number, "event")} there, ${one.here} here${one.forgotten ? "; forgotten" : ""}`,
  ),
];

/** Takes in all that the benches of another shop know of a fixture that came from there, now and from now on. */
export const followFixture = (journal: string, serial: string): Promise<ExitCode> =>
  withShare(journal, async (table, settings) => {
    const server = await openShare(doorOf(settings));
    const shops = await server.shopsThatHad(identityKey(serial)).finally(() => server.close());
    if (shops.length === 0)
      return refuse([
        problem(serial, "no other shop of this share has had it", "check the number; there it must be shared first"),
      ]);
    for (const shop of shops) table.share.follow(shop);
    print(
      `${safeText(serial)} was in the shop ${shops.map((shop) => `"${safeText(shop)}"`).join(" and ")}: this bench hears of its benches from now on.`,
    );
    return tell(await exchangeOnce(table, settings, journal));
  });

/** Lets the journal go on by itself. What was shared stays on the server. */
export const leaveShare = (journal: string): ExitCode => {
  removeSettings(journal);
  print("This journal has left the share. It keeps everything that it has.");
  return EXIT.done;
};

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
