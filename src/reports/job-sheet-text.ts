import { safeText } from "../domain/problem/shown-text.ts";
import { RESULTS } from "../domain/trade/routines.ts";
import { verdictInWords } from "../run/release/release-status.ts";
import { comparedInWords, countsInWords, worthTelling } from "./before-after.ts";
import { type JobSheet, type SetFound, type SheetFault, worthReading } from "./job-sheet.ts";
import { type SeenSymptom, type SheetStep, spoiltInWords, whatWasSeen, whereInWords } from "./sheet-step.ts";
import { hanging, wrapped } from "./wrap.ts";

const WIDTH = 78;

/** The job sheet in words, for a terminal or a printer; every text from outside is made harmless. */
export const tellJobSheet = (sheet: JobSheet): string =>
  [
    ...heading(sheet),
    "",
    ...seen(sheet),
    ...whereItHappened(sheet),
    ...(sheet.timed.length > 0
      ? ["", "How long it took, from presses on arrival", ...sheet.timed.flatMap((one) => hanging("  ", one, WIDTH))]
      : []),
    ...whatItMaybe(sheet.faults),
    "",
    "What to do next",
    ...sheet.next.flatMap((one) => hanging("  - ", one, WIDTH)),
    ...(sheet.itself.length > 0
      ? ["", "What the fixture says of itself", ...sheet.itself.flatMap((one) => hanging("  - ", safeText(one), WIDTH))]
      : []),
    ...(sheet.byHand.length > 0
      ? ["", "By hand", ...sheet.byHand.flatMap((one) => hanging("  - ", safeText(one), WIDTH))]
      : []),
    ...beforeAndAfter(sheet),
    ...whereItStands(sheet),
    ...(sheet.warnings.length > 0
      ? ["", "Before it is used again", ...sheet.warnings.flatMap((one) => hanging("  ! ", one, WIDTH))]
      : []),
    ...whatWasSet(sheet),
    ...(sheet.journal === undefined ? [] : ["", `Journal at ${sheet.journal}`]),
    "",
    ...wrapped(cautionOf(sheet), WIDTH),
  ].join("\n");

const beforeAndAfter = ({ compared }: JobSheet): readonly string[] => {
  const told = worthTelling(compared);
  if (compared.length === 0) return [];
  return [
    "",
    "Before and after",
    ...told.flatMap((one) => hanging(`  ${one.became.padEnd(14)}`, comparedInWords(one), WIDTH)),
    ...countsInWords(compared).map((one) => `  ${one}`),
  ];
};

const whereItStands = ({ standing: [state, ...reasons], finish }: JobSheet): readonly string[] =>
  state === undefined
    ? []
    : [
        "",
        `Status: ${safeText(state)}`,
        ...reasons.flatMap((one) => hanging("  - ", safeText(one), WIDTH)),
        ...(finish === "" ? [] : hanging("  next: ", finish, WIDTH)),
      ];

/** The usual cautions, and what the fixture's source of light may do. */
export const cautionOf = ({ caution }: Pick<JobSheet, "caution">): string => `${CAUTION} ${caution}`.trim();

const CAUTION =
  "Limber does not replace the maker's manual, local codes or licensed electrical work. Isolate and lock off before any cover is opened; mind stored charge and heat.";

export const ENDED: Readonly<Record<JobSheet["ended"], string>> = {
  finished: "finished",
  stopped: "stopped before the end",
  failed: "ended by a failure of computer, line or journal",
  abandoned: "abandoned",
  open: "not finished",
};

const heading = (sheet: JobSheet): readonly string[] => [
  `Job sheet: ${safeText(sheet.fixture.serial)}`,
  ...hanging("", safeText(verdictInWords(sheet.verdict)), WIDTH),
  ...(sheet.dueNext === "" ? [] : hanging("", safeText(sheet.dueNext), WIDTH)),
  `${safeText(sheet.profile)}, universe ${sheet.fixture.universe}, address ${sheet.fixture.address}; sequence ${safeText(sheet.sequence)}`,
  `run ${safeText(sheet.run)}, ${whenInWords(sheet)}`,
  ...(sheet.simulated ? ["SIMULATED: a simulated fixture, not a real one."] : []),
  `${tally(sheet.steps)}; ${ENDED[sheet.ended]}.`,
  ...(sheet.rig.spoilt > 0 ? wrapped(spoiltInWords(sheet.rig), WIDTH) : []),
];

/** When the run began and who watched: "2026-11-25 18:50 UTC, watched by JK". */
export const whenInWords = ({ begun, people }: JobSheet): string =>
  `${begun.slice(0, 16).replace("T", " ")} UTC${people.length > 0 ? `, watched by ${people.map(safeText).join(", ")}` : ""}`;

/** How many steps came to which result, in words: "31 pass, 2 fail". */
export const tally = (steps: readonly SheetStep[]): string => {
  const counts = new Map<string, number>();
  for (const { result } of steps) counts.set(RESULTS[result], (counts.get(RESULTS[result]) ?? 0) + 1);
  return [...counts].map(([result, count]) => `${count} ${result}`).join(", ");
};

const seen = (sheet: JobSheet): readonly string[] => {
  const all = whatWasSeen(sheet);
  return ["What was seen", ...(all.length === 0 ? ["  nothing wrong"] : all.flatMap(tellSeen))];
};

const tellSeen = ({ step, result, about }: SeenSymptom): readonly string[] =>
  hanging(`  ${result.padEnd(16)}`, `${step}${about ? ` - ${about}` : ""}`, WIDTH);

const whereItHappened = ({ where, quickness }: JobSheet): readonly string[] =>
  where.length === 0
    ? []
    : [
        "",
        "Where it happened, from the presses",
        ...where.flatMap((one) => {
          const [words = "", ...strip] = whereInWords(one);
          return [...hanging("  ", words, WIDTH), ...strip.map((row) => `    ${row}`)];
        }),
        ...(quickness ? hanging("  ", safeText(quickness), WIDTH) : []),
      ];

const whatItMaybe = (faults: readonly SheetFault[]): readonly string[] =>
  faults.length === 0
    ? []
    : [
        "",
        "What it may be",
        ...worthReading(faults).flatMap(({ title, belief, because, against, todo }) => [
          ...hanging(`  ${belief.padEnd(16)}`, title, WIDTH),
          ...(because.length > 0 ? hanging("                  for:     ", because.join("; "), WIDTH) : []),
          ...(against.length > 0 ? hanging("                  against: ", against.join("; "), WIDTH) : []),
          ...(todo ? hanging("                  to do:   ", todo, WIDTH) : []),
        ]),
      ];

const whatWasSet = (sheet: JobSheet): readonly string[] =>
  sheet.simulated ? ["", ...hanging("", `Hidden fault of the simulated fixture: ${hiddenInWords(sheet)}.`, WIDTH)] : [];

/** The fault hidden in a simulated run, and whether it was found: "tilt belt slack. Found: first of the faults above". */
export const hiddenInWords = ({ setFound }: JobSheet): string =>
  setFound.length === 0 ? "nothing" : setFound.map(({ words, place }) => `${words}. ${foundWords(place)}`).join("; ");

const foundWords = (place: SetFound["place"]): string => {
  if (place === "repaired") return "Found and repaired";
  const ordinal = ORDINALS[(place ?? 0) - 1];
  return ordinal === undefined ? "Not found: not among the faults above" : `Found: ${ordinal} of the faults above`;
};
const ORDINALS = ["first", "second", "third", "fourth", "fifth"];
