import { spawn } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import type { Command } from "commander";
import { nearest, problem } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { shippedFile } from "../../io/files/files.ts";
import { openerOn, systemOf } from "../../io/systems.ts";
import {
  type Chapter,
  type CommandHelp,
  chapterOf,
  commandsChapter,
  type FileFormat,
  filesChapter,
  guidePage,
} from "../../reports/guide.ts";
import { complain, deliver, EXIT, type ExitCode, print, refuse } from "../common/output.ts";

/** In the order in which they are read; each is a file of docs/guide. */
const CHAPTERS = [
  "shift",
  "one-head",
  "rack",
  "new-kind",
  "place",
  "numbers",
  "sharing",
  "rdm",
  "phone",
  "trouble",
  "safety",
];

const FORMATS = [
  {
    file: "profiles/profile.schema.json",
    title: "A profile",
    about: "A kind of fixture in one of its modes: what stands on which slot, how far and how fast it moves.",
  },
  {
    file: "sequences/sequence.schema.json",
    title: "A sequence",
    about: "A test plan: steps that are played one after the other on any kind of fixture.",
  },
  {
    file: "benches/bench.schema.json",
    title: "A bench",
    about: "This bench: distance to the wall, where the beam may point, buttons, voice, DMX lines.",
  },
  {
    file: "racks/rack.schema.json",
    title: "A rack",
    about: "Fixtures plugged up together: serial numbers, kinds, addresses, circuits.",
  },
  {
    file: "shops/shop.schema.json",
    title: "A shop",
    about: "Levels of release, how often each check is due, and who may sign.",
  },
  { file: "docs/export.schema.json", title: "An export", about: "What `limber export --json` writes." },
] as const;

export interface GuideOrder {
  /** Undefined for the list of chapters. */
  readonly chapter: string | undefined;
  readonly as: string;
  readonly open: boolean;
  readonly out: string | undefined;
}

/** Prints a chapter or the list of them, writes the whole guide as a page, or opens that page. */
export const guide = (program: Command, { chapter, as, open, out }: GuideOrder): ExitCode => {
  if (open) return openPage();
  const chapters = chaptersFor(program);
  if (as === "html") return deliver(guidePage(chapters), out);
  if (chapter === undefined) return deliver(contents(chapters), out);
  const found = chapters.find(({ name }) => name === chapter);
  if (found) return deliver(found.text, out);
  const names = chapters.map(({ name }) => name);
  const near = nearest(chapter, names);
  return refuse([
    problem(chapter, "there is no such chapter", near ? `did you mean "${near}"?` : `one of ${names.join(", ")}`),
  ]);
};

const chaptersFor = (program: Command): readonly Chapter[] => [
  ...CHAPTERS.map((name) => chapterOf(name, readFileSync(shippedFile("docs", "guide", `${name}.md`), "utf8"))),
  commandsChapter(helpOf(program, [])),
  filesChapter(FORMATS.map(formatOf)),
];

const formatOf = ({ file, title, about }: (typeof FORMATS)[number]): FileFormat => ({
  title,
  about,
  schema: JSON.parse(readFileSync(shippedFile(...file.split("/")), "utf8")),
});

/** The commands that do something, each by its whole name; the width of the help is that of a terminal. */
const helpOf = (command: Command, path: readonly string[]): readonly CommandHelp[] =>
  command
    .createHelp()
    .visibleCommands(command)
    .filter((one) => one.name() !== "help")
    .flatMap((one) => {
      const name = [...path, one.name()];
      if (one.commands.length > 0) return helpOf(one, name);
      return [{ name: name.join(" "), help: one.configureHelp({ helpWidth: 80 }).helpInformation() }];
    });

const contents = (chapters: readonly Chapter[]): string => {
  const room = Math.max(...chapters.map(({ name }) => name.length)) + 2;
  return [
    'The guide. "limber guide CHAPTER" prints a chapter; "limber guide --open" shows all of it in the browser.',
    "",
    ...chapters.map(({ name, title }) => `${name.padEnd(room)}${title}`),
  ].join("\n");
};

/** The page that lies beside the program. A browser of its own is started and not waited for. */
const openPage = (): ExitCode => {
  const page = shippedFile("dist", "guide.html");
  if (!existsSync(page)) {
    complain(`${safeText(page)} is not there. "limber guide --as html --out guide.html" writes it.`);
    return EXIT.world;
  }
  const [opener, ...args] = openerOn(systemOf(process.platform), page);
  spawn(opener, args, { stdio: "ignore", detached: true })
    .on("error", () => complain(`The browser cannot be started. The page is ${safeText(page)}`))
    .unref();
  print(safeText(page));
  return EXIT.done;
};
