import { h, s } from "hastscript";
import { encode } from "uqr";
import { safeText } from "../domain/problem/shown-text.ts";
import { VERDICT_WORDS } from "../run/release/release-status.ts";
import type { JobSheet } from "./job-sheet.ts";
import { htmlOf, type Piece } from "./page/document.ts";
import { cut, wrapped } from "./wrap.ts";

/** Columns that a small label carries in a row. */
const COLUMNS = 24;

/**
 * Words for a small label, rows of at most 24 columns: the verdict, why or at which level, what is due next, serial, date,
 * the run's short code, and where the journal stood.
 */
export const labelOf = (sheet: JobSheet): readonly string[] =>
  [
    stateOf(sheet),
    ...whyOf(sheet),
    ...(sheet.dueNext === "" ? [] : wrapped(safeText(sheet.dueNext), COLUMNS)),
    safeText(sheet.fixture.serial),
    sheet.begun.slice(0, 10),
    `run ${shortCode(sheet.run)}`,
    ...(sheet.journal === undefined ? [] : [`no. ${sheet.journal}`]),
  ].map((row) => cut(row, COLUMNS));

/** The last part of a run's name tells it apart and can be read aloud. */
const shortCode = (run: string): string => safeText(run.split("-").at(-1) ?? run);

/** What is wrong with it, or how thoroughly it was released and by whom; what is only still to be done does not fit. */
const whyOf = ({ verdict }: JobSheet): readonly string[] => {
  if (verdict.kind === "released") return [safeText(`level ${verdict.level}, ${verdict.by}`)];
  return verdict.kind === "do-not-use" || verdict.kind === "needs-work"
    ? verdict.because.slice(0, 1).map(safeText)
    : [];
};

/** Simulated, so that nobody sticks it on a real one. */
const stateOf = ({ simulated, verdict }: JobSheet): string =>
  `${simulated ? "SIM " : ""}${VERDICT_WORDS[verdict.kind].toUpperCase()}`;

/**
 * Bars and gaps of a Code 128, in modules, the first a bar (ISO/IEC 15417, code set B: printable ASCII). Undefined for a
 * text with other characters. The table is from memory; the tests read every character back with another library.
 */
export const code128 = (text: string): readonly number[] | undefined => {
  if (text === "" || !/^[ -~]+$/.test(text)) return undefined;
  const values = [...text].map((letter) => letter.charCodeAt(0) - 32);
  const sum = values.reduce((total, value, at) => total + value * (at + 1), START_B);
  return [START_B, ...values, sum % 103, STOP].flatMap((value) => [...(WIDTHS[value] ?? "")].map(Number));
};

const START_B = 104;
const STOP = 106;
const WIDTHS =
  "212222 222122 222221 121223 121322 131222 122213 122312 132212 221213 221312 231212 112232 122132 122231 113222 123122 123221 223211 221132 221231 213212 223112 312131 311222 321122 321221 312212 322112 322211 212123 212321 232121 111323 131123 131321 112313 132113 132311 211313 231113 231311 112133 112331 132131 113123 113321 133121 313121 211331 231131 213113 213311 213131 311123 311321 331121 312113 312311 332111 314111 221411 431111 111224 111422 121124 121421 141122 141221 112214 112412 122114 122411 142112 142211 241211 221114 413111 241112 134111 111242 121142 121241 114212 124112 124211 411212 421112 421211 212141 214121 412121 111143 111341 131141 114113 114311 411113 411311 113141 114131 311141 411131 211412 211214 211232 2331112".split(
    " ",
  );

/** What a label for a fixture says: its serial number is the code, and all that a scanner reads. */
export interface FixtureLabel {
  readonly serial: string;
  readonly verdict: string;
  /** The level of release; empty where it is not released. */
  readonly level: string;
  /** When something is due next; empty where nothing is. */
  readonly due: string;
  /** Simulated, so that nobody sticks it on a real one. */
  readonly simulated: boolean;
}

/** Rolls of common label printers, and sheets of A4 with three by eight (70 x 37 mm). */
const LABEL_SIZES = ["62x29", "89x36", "a4"] as const;
export type LabelSize = (typeof LABEL_SIZES)[number];

const MEASURES: Readonly<Record<LabelSize, { readonly width: number; readonly height: number }>> = {
  "62x29": { width: 62, height: 29 },
  "89x36": { width: 89, height: 36 },
  a4: { width: 70, height: 37 },
};

/** Labels to print, one a page, on A4 as many as fit; nothing is fetched, and nothing runs. */
export const labelPage = (labels: readonly FixtureLabel[], size: LabelSize): string =>
  htmlOf(
    h(null, [
      { type: "doctype" },
      h("html", { lang: "en" }, [
        h("head", [
          h("meta", { charset: "utf-8" }),
          h("meta", {
            httpEquiv: "Content-Security-Policy",
            content: "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'",
          }),
          h("title", `Labels: ${labels.map(({ serial }) => safeText(serial)).join(", ")}`),
          h("style", styleFor(size)),
        ]),
        h("body", labels.map(label)),
      ]),
    ]),
  );

const label = ({ serial, verdict, level, due, simulated }: FixtureLabel): Piece =>
  h("article", [
    qr(serial),
    h("div", [
      h("h1", safeText(serial)),
      h(
        "p",
        { class: "verdict" },
        `${simulated ? "SIMULATED " : ""}${verdict}${level === "" ? "" : `, ${safeText(level)}`}`,
      ),
      ...(due === "" ? [] : [h("p", safeText(due))]),
    ]),
    ...bars(serial),
  ]);

const qr = (text: string): Piece => {
  const { data, size } = encode(text, { ecc: "M", border: 4 });
  const squares = data.flatMap((row, y) => row.flatMap((isDark, x) => (isDark ? [`M${x} ${y}h1v1h-1z`] : [])));
  const drawn = s("path", { d: squares.join("") });
  return s("svg", { class: "qr", viewBox: `0 0 ${size} ${size}`, "aria-label": `QR code: ${safeText(text)}` }, drawn);
};

/** Quiet zones of ten modules at both sides (ISO/IEC 15417). */
const QUIET = 10;

/** Only what fits: a serial number with other letters than ASCII has its QR code alone. */
const bars = (text: string): readonly Piece[] => {
  const widths = code128(text);
  if (!widths) return [];
  let x = QUIET;
  const rects = widths.flatMap((width, at) => {
    const from = x;
    x += width;
    return at % 2 === 0 ? [s("rect", { x: from, y: 0, width, height: 10 })] : [];
  });
  const view = `0 0 ${x + QUIET} 10`;
  return [
    s(
      "svg",
      { class: "bars", viewBox: view, preserveAspectRatio: "none", "aria-label": `Code 128: ${safeText(text)}` },
      rects,
    ),
  ];
};

const styleFor = (size: LabelSize): string => {
  const { width, height } = MEASURES[size];
  const sheet =
    size === "a4" ? "@page { size: A4; margin: 0.5mm 0 0 }" : `@page { size: ${width}mm ${height}mm; margin: 0 }`;
  const body = size === "a4" ? "body { display: flex; flex-wrap: wrap; width: 210mm }" : "";
  return `${sheet}
* { box-sizing: border-box; margin: 0 }
${body}
body { background: #fff; color: #000; font: 3mm/1.15 sans-serif; margin: 0 }
article { width: ${width}mm; height: ${height}mm; padding: 1mm; display: grid; grid-template: 1fr 8mm / ${height - 10}mm 1fr; overflow: hidden; break-inside: avoid; ${size === "a4" ? "" : "break-after: page"} }
article div { overflow: hidden; padding-top: 1mm }
h1 { font-size: 4.5mm; overflow-wrap: anywhere }
.verdict { font-weight: bold }
svg { shape-rendering: crispEdges }
.qr { width: 100%; height: 100% }
.bars { grid-column: 1 / 3; width: 100%; height: 8mm; padding-top: 1mm }
`;
};
