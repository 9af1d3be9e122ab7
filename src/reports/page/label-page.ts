import { h, s } from "hastscript";
import { encode } from "uqr";
import { safeText } from "../../domain/problem/terminal.ts";
import { code128 } from "../label.ts";
import { htmlOf, type Piece } from "./document.ts";

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
