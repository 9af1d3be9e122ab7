import { parentPort } from "node:worker_threads";
import { JournalError } from "../../run/ports.ts";
import { type JournalTable, openTable } from "./table.ts";
import type { Answers, Ask, JournalQuestion, JournalReply } from "./thread.ts";
import { inPlainWords } from "./trouble.ts";

/** The thread that holds the database: a lock or a slow disk stops this thread and never the frames. */
if (!parentPort) throw new Error("Bug: worker.ts runs only as a worker thread");
const port = parentPort;
let table: JournalTable | undefined;
let file = "";

port.on("message", ({ number, ask }: JournalQuestion) => port.postMessage(replyTo(number, ask)));

const replyTo = (number: number, ask: Ask): JournalReply => {
  try {
    return { number, kind: "done", value: answer(ask) };
  } catch (caught) {
    const error = inPlainWords(caught, ask.kind === "backup" ? ask.file : file);
    if (!(error instanceof JournalError)) return { number, kind: "bug", message: inWords(error) };
    const { code, message, cause } = error;
    return { number, kind: "trouble", trouble: { code, message, cause: inWords(cause) } };
  }
};

const inWords = (cause: unknown): string => (cause instanceof Error ? cause.message : String(cause));

const answer = (ask: Ask): Answers[Ask["kind"]] => {
  switch (ask.kind) {
    case "open":
      return open(ask);
    case "insert":
      opened().insert(ask.rows);
      return undefined;
    case "page":
      return opened().page(ask.of, ask.after, ask.limit);
    case "backup":
      opened().backup(ask.file);
      return undefined;
    case "catch-up":
      return opened().derived.catchUp(ask.most);
    case "briefs":
      return opened().derived.briefs(ask.which, ask.least);
    case "teaching":
      return opened().derived.teaching(ask.least);
    case "standings":
      return opened().derived.standings(ask.which, ask.least, ask.most);
    case "forget":
      return opened().derived.forget();
    case "head":
      return opened().head();
    case "open-elsewhere":
      return opened().derived.openElsewhere(ask.least);
    case "check-chain":
      return opened().check.chain(ask.after, ask.most);
    case "check-runs":
      return opened().check.runs(ask.after, ask.most);
    case "check-fixture":
      return opened().check.fixture(ask.serial);
    case "check-fixtures":
      return opened().check.fixtures(ask.after, ask.most);
    case "check-rules":
      return opened().check.rules();
    case "accepted":
      return opened().check.accepted();
    case "accept":
      opened().check.accept(ask.finding);
      return undefined;
    case "has-head":
      return opened().check.has(ask.head);
    case "close":
      opened().close();
      return undefined;
    default:
      return ask satisfies never;
  }
};

const open = (ask: Extract<Ask, { kind: "open" }>): Answers["open"] => {
  file = ask.file;
  table = openTable(ask.file, ask.patience);
  return table.check.ended();
};

const opened = (): JournalTable => {
  if (!table) throw new Error("Bug: the journal is not open");
  return table;
};
