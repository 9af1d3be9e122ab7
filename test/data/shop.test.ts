import { expect, test } from "vitest";
import { parseShop, roleTrouble } from "../../src/data/shop/shop.ts";
import { must } from "../kit/shipped.ts";

const HEAD = "shop: house\ntitle: House\nlevels: []\n";
const SHOP = `${HEAD}people:
  - { initials: KM, may: [release] }
  - { initials: EE, may: [measure, lift] }
`;

test("what nobody is named for, everybody may do; without a shop file that is everything", () => {
  const onlyRelease = must(parseShop("shop.yaml", `${HEAD}people: [{ initials: KM, may: [release] }]\n`));
  expect(roleTrouble(onlyRelease.people, "measure", "JD")).toBeUndefined();
  expect(roleTrouble(must(parseShop("shop.yaml", HEAD)).people, "release", "JD")).toBeUndefined();
});

test.each([
  ["release", "JD", "JD may not sign a fixture back; KM may"],
  ["release", " km", undefined],
  ["measure", "KM", "KM may not take the electrical measurements; EE may"],
  ["lift", "", "nobody in particular may not lift what is held back, and give a second opinion on a danger; EE may"],
] as const)("%s by %j: %s", (role, initials, trouble) => {
  expect(roleTrouble(must(parseShop("shop.yaml", SHOP)).people, role, initials)).toBe(trouble);
});

test.each([
  ["people: [{ initials: KM, may: [sign] }]\n", 4, "an unknown role"],
  ["people: [{ initials: KM, may: [] }]\n", 4, "nothing that the person may do"],
  ["people:\n  - { initials: KM, may: [lift] }\n  - { initials: km, may: [release] }\n", 6, "named twice"],
  ['people:\n  - { initials: "K\u200bM", may: [lift] }\n', 5, "a character that nobody can see"],
])("%j: line %i, %s", (people, line) => {
  const parsed = parseShop("shop.yaml", `${HEAD}${people}`);
  expect(parsed.ok ? undefined : parsed.problems.map(({ place }) => place?.line)).toEqual([line]);
});
