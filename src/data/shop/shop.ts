import { z } from "zod";
import { keysOf } from "../../domain/keys.ts";
import { checkShape, type DataFile, problemAt, readDataFile } from "../../domain/problem/document.ts";
import { isSameName, nameTrouble } from "../../domain/problem/identity.ts";
import { bad, byPlace, good, type Problem, problem, type Result } from "../../domain/problem/problem.ts";
import { COVER_IDS, type CoverId, coverWords } from "../../domain/trade/hold-points.ts";
import { INSPECTION_IDS, type InspectionId, inspection } from "../../domain/trade/inspections.ts";
import { READING_IDS, type ReadingId, reading } from "../../domain/trade/readings.ts";

const every = z
  .union([
    z.literal("return"),
    z.strictObject({
      returns: z.int().positive().max(1000).optional().describe("After so many returns since it was done last"),
      hours: z.number().positive().max(100_000).optional().describe("After so many hours of the light source"),
      strikes: z
        .int()
        .positive()
        .max(100_000)
        .optional()
        .describe("After so many lamp strikes, as the fixture counts them"),
      months: z.number().positive().max(240).optional().describe("After so many months"),
    }),
  ])
  .describe("How often it is due: at every return, or by the first of these limits that is passed");

const need = z.union([
  z.strictObject({ sequence: z.string().min(1), every }),
  z.strictObject({ inspection: z.enum(INSPECTION_IDS), every }),
  z.strictObject({ measurement: z.enum(READING_IDS), every }),
  z.strictObject({ cover: z.enum(COVER_IDS), every }),
  z.strictObject({ full: z.literal("check"), every }),
]);

const level = z.strictObject({
  level: z
    .string()
    .regex(/^[a-z][a-z0-9-]{0,19}$/, "must be a short name of small letters, digits and -")
    .refine((name) => name !== "full", "full is the whole check-in and always there")
    .describe("Its name on sheets and labels"),
  title: z.string().min(1).max(60).describe("What it means, in a few words"),
  needs: z
    .array(need)
    .min(1)
    .max(200)
    .describe("A sequence, inspection, measurement or cover, and how often it is due"),
});

/** What a person may be named for. What nobody is named for, everybody may do. */
const ROLES = {
  release: "sign a fixture back",
  measure: "take the electrical measurements",
  lift: "lift what is held back, and give a second opinion on a danger",
} as const;
export type RoleId = keyof typeof ROLES;
const ROLE_IDS = keysOf(ROLES);

const person = z.strictObject({
  initials: z.string().min(1).max(20).describe("As typed with --person"),
  name: z.string().optional().describe("Who that is"),
  may: z
    .array(z.enum(ROLE_IDS))
    .min(1)
    .describe("release: sign back. measure: competent for electrical measurements. lift: lift what is held back"),
});

/** The shape of a shop file: what this shop asks for before a fixture leaves, in levels, the most thorough first. */
export const shopFile = z.strictObject({
  shop: z.string().min(1).max(40).describe("Name of the shop, as the file is called"),
  title: z.string().min(1).max(80).describe("As people read it"),
  levels: z.array(level).max(20).describe("Besides the full check; dangers block every level and cannot be left out"),
  people: z.array(person).max(200).optional().describe("Who may do what; what nobody is named for, everybody may do"),
});

/** How often something is due. */
export type Every =
  | { readonly kind: "return" }
  | {
      readonly kind: "limits";
      readonly returns: number | undefined;
      readonly hours: number | undefined;
      readonly strikes: number | undefined;
      readonly months: number | undefined;
    };

interface LevelNeed {
  readonly need: Need;
  readonly every: Every;
}

/** A level at which a shop releases fixtures. */
export interface ReleaseLevel {
  readonly name: string;
  readonly title: string;
  readonly needs: readonly LevelNeed[];
}

/** Who may do what, by initials. Empty: everybody may do everything. */
export type People = readonly { readonly initials: string; readonly may: readonly RoleId[] }[];

/** A shop's own rules. */
export interface Shop {
  readonly name: string;
  readonly title: string;
  /** The most thorough first. */
  readonly levels: readonly ReleaseLevel[];
  readonly people: People;
}

/** Reads a shop file: the shop, or everything that is wrong with the file at once. */
export const parseShop = (source: string, text: string): Result<Shop> => {
  const file = readDataFile(source, text);
  if (!file.ok) return file;
  const checked = checkShape(file.value, shopFile);
  if (!checked.ok) return checked;
  const { shop, title, levels, people = [] } = checked.value;
  const names = levels.map(({ level: name }) => name);
  const twice = names.find((name, index) => names.indexOf(name) !== index);
  if (twice !== undefined) return bad(problem(source, `level "${twice}" is there twice`));
  const wrong = people.flatMap((one, index) => personProblems(file.value, people, one, index));
  if (wrong.length > 0) return bad(...byPlace(wrong));
  return good({
    name: shop,
    title,
    levels: levels.map((one) => ({ name: one.level, title: one.title, needs: one.needs.map(needFrom) })),
    people: people.map(({ initials, may }) => ({ initials, may })),
  });
};

type ShopPerson = z.infer<typeof person>;
const personProblems = (
  file: DataFile,
  people: readonly ShopPerson[],
  { initials }: ShopPerson,
  index: number,
): readonly Problem[] => {
  const path = ["people", index, "initials"];
  const trouble = nameTrouble(initials);
  if (trouble !== undefined) return [problemAt(file, path, { message: `"${initials}" ${trouble}` })];
  if (people.findIndex((one) => isSameName(one.initials, initials)) === index) return [];
  const hint = "one entry with all that this person may do";
  return [problemAt(file, path, { message: `"${initials}" is named twice`, hint })];
};

/** Whether the shop names this person for this role; false where the shop names nobody for it. */
export const isNamedFor = (people: People, role: RoleId, initials: string): boolean =>
  people.some((one) => one.may.includes(role) && isSameName(one.initials, initials));

/** Why this person may not do it, in words; undefined when it may be done. */
export const roleTrouble = (people: People, role: RoleId, initials: string): string | undefined => {
  const named = people.filter(({ may }) => may.includes(role)).map((one) => one.initials);
  if (named.length === 0 || named.some((one) => isSameName(one, initials))) return undefined;
  return `${initials === "" ? "nobody in particular" : initials} may not ${ROLES[role]}; ${named.join(", ")} may`;
};

const needFrom = ({ every: often, ...what }: z.infer<typeof need>): LevelNeed => {
  const [[kind, name] = ["", ""]] = Object.entries(what);
  return { need: { kind, name } as Need, every: everyFrom(often) };
};

const everyFrom = (often: z.infer<typeof every>): Every =>
  often === "return"
    ? { kind: "return" }
    : { kind: "limits", returns: often.returns, hours: often.hours, strikes: often.strikes, months: often.months };

/** One thing that a level of release asks for. */
export type Need =
  /** Every step of this sequence has passed. */
  | { readonly kind: "sequence"; readonly name: string }
  | { readonly kind: "inspection"; readonly name: InspectionId }
  /** In limit and signed. */
  | { readonly kind: "measurement"; readonly name: ReadingId }
  /** Every inspection behind this cover is answered good. */
  | { readonly kind: "cover"; readonly name: CoverId }
  /** The whole check-in, signed. */
  | { readonly kind: "full"; readonly name: "check" };

/** What is still due, in words: "sequence quick", "yoke covers", "electrical safety test". */
export const needInWords = (need: Need): string => {
  switch (need.kind) {
    case "sequence":
      return `sequence ${need.name}`;
    case "inspection":
      return inspection(need.name).look;
    case "measurement":
      return reading(need.name).words;
    case "cover":
      return `inspections behind ${coverWords(need.name)}`;
    case "full":
      return "full check";
    default:
      return need satisfies never;
  }
};
