import { isOlder } from "../domain/problem/version.ts";
import { many } from "./status-words.ts";
import { hanging } from "./wrap.ts";

/** What was found out about this computer; nothing here is judged yet. */
export interface ComputerFacts {
  readonly versions: {
    readonly limber: string;
    readonly node: string;
    readonly needed: string;
    readonly system: string;
  };
  readonly ports: PortFacts;
  /** What was asked of the interface that --output names; undefined when none was named. */
  readonly asked: AskedFacts | undefined;
  /** IPv4 addresses of this computer, without its own loop. */
  readonly addresses: readonly { readonly address: string; readonly card: string }[];
  readonly journal: JournalFacts;
  /** Whether this computer holds the beat of frames, which programs take its time, and whether frames may go before them. */
  readonly beat: BeatFacts;
  /** Name of the speech program; undefined when there is none. */
  readonly speaks: string | undefined;
  readonly terminal: TerminalFacts;
  /** How many data files of each kind are found. */
  readonly files: Readonly<Record<string, number>>;
}

export type PortFacts =
  | { readonly kind: "listed"; readonly ports: readonly PortFact[] }
  | { readonly kind: "cannot-list"; readonly why: string };

export interface PortFact {
  readonly path: string;
  readonly usb: boolean;
  readonly serialNumber: string | undefined;
  /** Why it may not be opened; undefined when it may. */
  readonly forbidden: string | undefined;
}

export type AskedFacts =
  | { readonly kind: "answered"; readonly path: string; readonly says: readonly string[] }
  | { readonly kind: "silent"; readonly path: string }
  | { readonly kind: "cannot-open"; readonly path: string; readonly why: string }
  /** An output that has no interface to ask. */
  | { readonly kind: "not-asked"; readonly path: string };

export type JournalFacts =
  | { readonly kind: "none"; readonly file: string; readonly free: number | undefined }
  | {
      readonly kind: "opened";
      readonly file: string;
      readonly bytes: number;
      /** Bytes free where it lies; undefined where the system does not say. */
      readonly free: number | undefined;
      readonly events: number;
      /** What the check of the journal found, in words. */
      readonly findings: readonly string[];
      readonly othersMayRead: boolean;
    }
  | { readonly kind: "cannot-open"; readonly file: string; readonly why: string };

interface BeatFacts {
  readonly late: number;
  readonly of: number;
  readonly busiest: readonly { readonly name: string; readonly percent: number }[];
  readonly priority: "raised" | "as it was given" | "not allowed";
}

interface TerminalFacts {
  readonly isTerminal: boolean;
  readonly columns: number;
  readonly rows: number;
  readonly coloured: boolean;
  /** Whether its character set is UTF-8, as far as the environment says. */
  readonly unicode: boolean;
}

/** One line of the answer. A note works but has something to know; trouble has something to do. */
export interface CheckedLine {
  readonly about: string;
  readonly state: "good" | "note" | "trouble";
  readonly found: string;
  /** What to do; empty when nothing is to be done. */
  readonly todo: string;
}

const fine = (about: string, found: string): CheckedLine => ({ about, state: "good", found, todo: "" });
const note = (about: string, found: string, todo: string): CheckedLine => ({ about, state: "note", found, todo });
const trouble = (about: string, found: string, todo: string): CheckedLine => ({ about, state: "trouble", found, todo });

/** Judges what was found out about the computer, in the order in which a person would put it right. */
export const checkComputer = (facts: ComputerFacts): readonly CheckedLine[] => [
  ...versions(facts.versions),
  dataFiles(facts.files),
  ...ports(facts.ports),
  ...(facts.asked ? [interfaceAnswer(facts.asked)] : []),
  network(facts.addresses),
  ...journal(facts.journal),
  beat(facts.beat),
  speech(facts.speaks),
  ...terminal(facts.terminal),
];

const versions = ({ limber, node, needed, system }: ComputerFacts["versions"]): readonly CheckedLine[] => [
  fine("Limber", `${limber} on ${system}`),
  isOlder(node, needed) ? trouble("Node", `${node} is too old`, `install Node ${needed} or later`) : fine("Node", node),
];

const dataFiles = (files: ComputerFacts["files"]): CheckedLine => {
  const missing = Object.entries(files).filter(([, count]) => count === 0);
  const found = Object.entries(files).map(([kind, count]) => `${kind}: ${count}`);
  return missing.length === 0
    ? fine("data files", found.join(", "))
    : trouble("data files", `no ${missing.map(([kind]) => kind).join(", no ")}`, "install Limber again");
};

const ports = (found: PortFacts): readonly CheckedLine[] => {
  if (found.kind === "cannot-list") return [trouble("serial ports", found.why, "install what is named")];
  const usb = found.ports.filter((port) => port.usb);
  if (usb.length === 0)
    return [note("serial ports", "no USB-DMX interface is plugged in", "plug one in, or use sacn: or artnet:")];
  return usb.map(({ path, serialNumber, forbidden }) =>
    forbidden === undefined
      ? fine("serial port", `${path}${serialNumber === undefined ? "" : `, serial number ${serialNumber}`}`)
      : trouble("serial port", `${path} may not be opened`, forbidden),
  );
};

const interfaceAnswer = (asked: AskedFacts): CheckedLine => {
  switch (asked.kind) {
    case "answered":
      return fine("interface", `${asked.path} answers: ${asked.says.join(", ")}`);
    case "silent":
      return note(
        "interface",
        `${asked.path} opens but does not answer`,
        "many plain adapters never answer: try break:PATH, and watch a fixture in a first look",
      );
    case "cannot-open":
      return trouble("interface", asked.why, "put this right first: no run can use the line");
    case "not-asked":
      return note("interface", `${asked.path} has no interface that could answer`, "name serial:PATH to ask one");
  }
};

const network = (addresses: ComputerFacts["addresses"]): CheckedLine =>
  addresses.length === 0
    ? note("network", "this computer has no network address", "sacn: and artnet: need one; serial: and break: do not")
    : fine("network", addresses.map(({ address, card }) => `${address} (${card})`).join(", "));

/** Below this a shop's weeks of runs may not fit: a run takes less than a megabyte. Judgement. */
const LITTLE_SPACE = 200_000_000;

const journal = (facts: JournalFacts): readonly CheckedLine[] => {
  if (facts.kind === "cannot-open") return [trouble("journal", facts.why, `look after ${facts.file} first`)];
  const space =
    facts.free !== undefined && facts.free < LITTLE_SPACE
      ? [
          trouble(
            "disk",
            `only ${megabytes(facts.free)} free where the journal lies`,
            "make room: runs are saved there",
          ),
        ]
      : [];
  if (facts.kind === "none") return [fine("journal", `none yet; the first run makes ${facts.file}`), ...space];
  return [
    facts.findings.length === 0
      ? fine("journal", `${facts.file}, ${many(facts.events, "event")}, ${megabytes(facts.bytes)}, all as written`)
      : trouble("journal", facts.findings.join("; "), '"limber journal check" tells more'),
    ...(facts.othersMayRead
      ? [trouble("journal", "other users of this computer may read it", `chmod 600 ${facts.file}`)]
      : []),
    ...space,
  ];
};

const megabytes = (bytes: number): string => `${Math.max(0.1, bytes / 1e6).toFixed(bytes < 1e7 ? 1 : 0)} MB`;

const FIRST = {
  raised: "in a run frames go before other programs",
  "as it was given": "its priority was given from outside and stays",
  "not allowed": "the system does not let frames go before other programs",
} as const;

/** A jerk of the computer is no fault of a fixture: such steps are repeated, which takes time. */
const beat = ({ late, of, busiest, priority }: BeatFacts): CheckedLine => {
  const found = `${of - late} of ${of} frames on time; ${FIRST[priority]}`;
  if (late <= 1) return fine("frames", found);
  const names = busiest.map(({ name, percent }) => `${name} (${percent} % of a processor)`).join(", ");
  return note("frames", found, `close what else runs${names === "" ? "" : `: ${names}`}`);
};

const speech = (program: string | undefined): CheckedLine =>
  program === undefined
    ? note("speech", "no speech program", "install espeak-ng if announcements should be spoken")
    : fine("speech", program);

/** The smallest terminal on which every page fits. */
const NEEDED = { columns: 80, rows: 24 } as const;

const terminal = ({ isTerminal, columns, rows, coloured, unicode }: TerminalFacts): readonly CheckedLine[] => {
  if (!isTerminal) return [note("terminal", "none here", "start Limber in a terminal, or read the job sheet")];
  const small = columns < NEEDED.columns || rows < NEEDED.rows;
  const size = `${columns} columns, ${rows} rows, ${coloured ? "colours" : "no colours"}`;
  return [
    small
      ? note("terminal", size, `make it ${NEEDED.columns} by ${NEEDED.rows} at least, or use --plain`)
      : fine("terminal", size),
    ...(unicode
      ? []
      : [note("terminal", "its character set is not UTF-8", "set LANG to a UTF-8 one, else names may look wrong")]),
  ];
};

const MARKS = { good: "good   ", note: "note   ", trouble: "TROUBLE" } as const;

/**
 * A line for each thing, what to do under it, and how many need something done. `width` is
 * the number of columns of the terminal.
 */
export const doctorText = (checked: readonly CheckedLine[], width: number): string => {
  const room = Math.max(...checked.map(({ about }) => about.length)) + 2;
  const lines = checked.flatMap(({ about, state, found, todo }) => {
    const mark = `${MARKS[state]}  ${about.padEnd(room)}`;
    return [
      ...hanging(mark, found, width),
      ...(todo === "" ? [] : hanging(" ".repeat(mark.length), `-> ${todo}`, width)),
    ];
  });
  const wrong = checked.filter(({ state }) => state === "trouble").length;
  return [
    ...lines,
    "",
    wrong === 0 ? "Nothing stands in the way of a run." : `${many(wrong, "thing")} to put right.`,
  ].join("\n");
};
