import { deflateSync, zipSync } from "fflate";
import { parseProfile } from "../../../src/data/profile/parse.ts";
import { parseSequence } from "../../../src/data/sequence/parse.ts";
import type { Problem, Result } from "../../../src/domain/problem/problem.ts";
import { archiveOf, channelOf, descriptionOf, modeOf } from "../../data/profile/gdtf/kit/gdtf.ts";
import { importOf } from "../../data/profile/gdtf/kit/imported.ts";

const MEGABYTE = 1024 * 1024;
const xml = (text: () => string) => () => {
  const archive = archiveOf(text());
  return (): Result<unknown> => importOf(archive);
};
const yaml = (parse: (source: string, text: string) => Result<unknown>, text: () => string) => () => {
  const written = text();
  return () => parse("a.yaml", written);
};
const many = (count: number, one: (n: number) => string): string =>
  Array.from({ length: count }, (_, n) => one(n)).join("");
const filled = (part: string, bytes: number): string => part.repeat(Math.floor(bytes / part.length));
const functions = (count: number): string =>
  many(count, (n) => `<ChannelFunction Attribute="A${n}" DMXFrom="${n}/4"/>`);

/** The largest thing of each kind; each is made ready, then refused with words, within the child's memory. */
export const HOSTILE: Readonly<Record<string, () => () => Result<unknown>>> = {
  "8 MB of tags": xml(() => `<GDTF>${filled("<A b=''></A>", 7.9 * MEGABYTE)}</GDTF>`),
  "8 MB of text": xml(() => `<GDTF>${filled("x", 7.9 * MEGABYTE)}</GDTF>`),
  "8 MB of long texts": xml(() => `<GDTF>${filled(`<A/>${"x".repeat(19_000)}`, 7.9 * MEGABYTE)}</GDTF>`),
  "399 thousand tags": xml(() => `<GDTF>${"<A/>".repeat(399_000)}</GDTF>`),
  "490 thousand attributes": xml(() => `<GDTF>${many(245, () => `<A ${many(2000, (n) => `a${n}="" `)}/>`)}</GDTF>`),
  "an endless attribute": xml(() => `<GDTF A="${filled("&amp;", 7.9 * MEGABYTE)}"/>`),
  "an unclosed comment": xml(() => `<GDTF><!--${filled("<!--", 7.9 * MEGABYTE)}`),
  "a hundred thousand functions": xml(() =>
    descriptionOf(
      modeOf(
        "One",
        many(100, (n) => channelOf(`${n + 1}`, `A${n}`, functions(1000))),
      ),
    ),
  ),
  "a bomb of 1 GB": () => {
    const packed = deflateSync(new Uint8Array(1024 * MEGABYTE));
    const archive = zipSync({ "description.xml": [packed, { level: 0 }] });
    // Says that it is deflated and small.
    const entry = new DataView(archive.buffer, new DataView(archive.buffer).getUint32(archive.length - 6, true));
    entry.setUint16(10, 8, true);
    entry.setUint32(24, 4 * MEGABYTE, true);
    return () => importOf(archive);
  },
  "a YAML file of unknown functions": yaml(
    parseProfile,
    () => `profile: a\nfunctions:\n${many(8000, (n) => `  F${n}: { slots: [1] }\n`)}`,
  ),
  "a YAML file of steps": yaml(
    parseSequence,
    () => `sequence: a\ntitle: A\nsteps:\n${many(9000, (n) => `  - swep: Pan${n}\n`)}`,
  ),
  "a YAML file of brackets": yaml(parseProfile, () => "[".repeat(199_000)),
  "a YAML file of aliases": yaml(parseProfile, () => `a: &a x\nb: [${"*a, ".repeat(49_000)}]`),
};

const told = (problems: readonly Problem[]): string => problems[0]?.message ?? "";

const [wanted] = process.argv.slice(2);
const one = process.argv[1]?.endsWith("hostile.js") === true && wanted !== undefined ? HOSTILE[wanted] : undefined;
if (one) {
  const open = one();
  const before = performance.now();
  const result = open();
  if (result.ok || told(result.problems) === "") throw new Error(`${wanted}: taken, or refused without words`);
  console.log(JSON.stringify({ ms: performance.now() - before, mb: process.resourceUsage().maxRSS / 1024 }));
}
