import { XMLParser, XMLValidator } from "fast-xml-parser";
import { placesIn } from "../../../domain/problem/document.ts";
import { bad, good, type Problem, type Result } from "../../../domain/problem/problem.ts";

/** One XML element with its attributes, trimmed: published GDTF examples write " 270". */
export interface Element {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: readonly Element[];
  /** What stands in it outside of its children, trimmed. */
  readonly text: string;
  /** Where its tag begins in the text. */
  readonly at: number;
}

/** An XML text that was read, and the way from each of its elements back to the text. */
export interface Xml {
  readonly root: Element;
  problem(at: Pick<Element, "at">, message: string, hint?: string): Problem;
}

/**
 * Reads XML. Broken XML comes back with its place. No document type, and so no entity of its own, is taken, and no more
 * elements, or deeper ones, than the description of a fixture could have.
 */
export const readXml = (source: string, text: string): Result<Xml> => {
  const place = placesIn(text);
  const problem: Xml["problem"] = ({ at }, message, hint) => ({
    source,
    place: place(at, tagEnd(text, at)),
    message,
    hint,
  });
  const wrong = refusal(text) ?? brokenAt(text);
  if (wrong) return bad(problem(wrong, wrong.message));
  try {
    const [root, ...others] = elementsOf(PARSER.parse(text));
    return root && others.length === 0
      ? good({ root, problem })
      : bad(problem(others[0] ?? START, "XML has exactly one outermost element"));
  } catch (error) {
    return bad(problem(START, `XML that is not read: ${error instanceof Error ? error.message : String(error)}`));
  }
};

const tagEnd = (text: string, at: number): number => (text[at] === "<" ? text.indexOf(">", at) + 1 : at + 1);

const START = { at: 0 } as const;
type Wrong = { readonly at: number; readonly message: string };

const MOST_TAGS = 400_000;
const MOST_ATTRIBUTES = 500_000;
/** How many characters a tag, or what is between two, may have: the parser takes some hundred bytes of memory for each. */
const LONGEST_STRETCH = 20_000;

const refusal = (text: string): Wrong | undefined => {
  const doctype = text.search(/<!DOCTYPE/i);
  if (doctype >= 0) return { at: doctype, message: "a document type is not taken: GDTF needs none" };
  if (count(text, "<") > MOST_TAGS) return { at: 0, message: `more than ${MOST_TAGS} tags` };
  if (count(text, "=") > MOST_ATTRIBUTES) return { at: 0, message: `more than ${MOST_ATTRIBUTES} attributes` };
  const long = longStretch(text);
  if (long !== undefined)
    return { at: long, message: `more than ${LONGEST_STRETCH} characters in one tag, or between two` };
  return undefined;
};

const longStretch = (text: string): number | undefined => {
  const edge = /[<>]/g;
  for (let from = 0; from < text.length; from = edge.lastIndex) {
    const to = edge.exec(text)?.index ?? text.length;
    if (to - from > LONGEST_STRETCH) return from;
    if (to === text.length) return undefined;
  }
  return undefined;
};

const count = (text: string, character: string): number => {
  let found = 0;
  for (let at = text.indexOf(character); at >= 0; at = text.indexOf(character, at + 1)) found++;
  return found;
};

/** The parser takes broken XML without a word, so the validator comes first. */
const brokenAt = (text: string): Wrong | undefined => {
  const valid = XMLValidator.validate(text);
  if (valid === true) return undefined;
  const { line, col, msg } = valid.err;
  let start = 0;
  for (let n = 1; n < line; n++) start = text.indexOf("\n", start) + 1;
  return { at: start + (col ?? 1) - 1, message: `broken XML: ${msg}` };
};

/** Order and places are kept: then one child and several look alike. Entities stay as written; see `plain`. */
const PARSER = new XMLParser({
  preserveOrder: true,
  captureMetaData: true,
  ignoreAttributes: false,
  attributeNamePrefix: "",
  parseTagValue: false,
  processEntities: false,
  ignoreDeclaration: true,
  ignorePiTags: true,
});
const WHERE = XMLParser.getMetaDataSymbol() as symbol;
const ATTRIBUTES = ":@";
const TEXT = "#text";

/** An element as the parser gives it: one key is the element's name, the others are its attributes and its place. */
type Node = Readonly<Record<PropertyKey, unknown>>;

const elementsOf = (nodes: readonly Node[]): readonly Element[] =>
  nodes.flatMap((node) => {
    const name = Object.keys(node).find((key) => key !== ATTRIBUTES);
    return name === undefined || name === TEXT ? [] : [elementFrom(name, node)];
  });

const elementFrom = (name: string, node: Node): Element => ({
  name,
  attributes: attributesFrom(node[ATTRIBUTES] ?? {}),
  children: elementsOf(nodesIn(node[name])),
  text: textIn(nodesIn(node[name])),
  at: startOf(node[WHERE]),
});

const nodesIn = (value: unknown): readonly Node[] => (Array.isArray(value) ? value : []);

const startOf = (place: unknown): number =>
  typeof place === "object" && place !== null && "startIndex" in place ? Number(place.startIndex) : 0;

const textIn = (nodes: readonly Node[]): string =>
  plain(nodes.flatMap((node) => (TEXT in node ? [String(node[TEXT])] : [])).join("")).trim();

const attributesFrom = (written: object): ReadonlyMap<string, string> =>
  new Map(Object.entries(written).map(([key, value]) => [key, plain(String(value)).trim()]));

/** The five entities of XML itself and characters by number (XML 1.0, 4.1 and 4.6); nothing else is expanded. */
const plain = (text: string): string =>
  text.replace(/&(?:(lt|gt|amp|quot|apos)|#(\d{1,7})|#x([0-9a-fA-F]{1,6}));/g, (whole, name, decimal, hex) => {
    if (name !== undefined) return NAMED[name] ?? whole;
    const code = decimal === undefined ? Number.parseInt(hex, 16) : Number(decimal);
    return code > 0 && code <= 0x10ffff ? String.fromCodePoint(code) : whole;
  });
const NAMED: Readonly<Record<string, string>> = { lt: "<", gt: ">", amp: "&", quot: '"', apos: "'" };
