import type { Profile } from "../data/profile/profile.ts";
import { entryText, inYaml, newRackText } from "../data/rack/write.ts";
import { firstCharacters } from "../domain/problem/terminal.ts";
import type { FoundFixture } from "../wire/rdm/roster.ts";

/**
 * A rack file of what was found, with addresses and UIDs as they are set. Where each one stands nobody knows yet, and the
 * profile is the first on the shelf that has as many slots: both are marked to be looked at.
 */
export const rackFromFound = (found: readonly FoundFixture[], kinds: readonly Profile[], name: string): string =>
  newRackText({
    name,
    title: `${found.length} fixtures, found over RDM`,
    universes: found.map(({ universe }) => universe),
    remark: "say where each one stands",
    entries: found.map((one, index) => entryOf(one, index, kinds)),
  });

const entryOf = ({ universe, identity }: FoundFixture, index: number, kinds: readonly Profile[]): string => {
  const { uid, serial, address, mode, model } = identity;
  const named = (kind: Profile) => model !== "" && [kind.name, kind.fixture, kind.title].includes(model);
  const alike = kinds.filter(({ slots }) => slots === mode?.slots).sort((a, b) => Number(named(b)) - Number(named(a)));
  const [first] = alike;
  const entry = entryText([
    ["serial", inYaml(serial === "" ? uid : serial)],
    ["uid", inYaml(uid)],
    ["profile", first?.name ?? "none-of-these-slots"],
    ["shelf", inYaml("not said")],
    ["place", inYaml(`number ${index + 1}`)],
    ["universe", String(universe)],
    ["address", String(address ?? 1)],
  ]);
  const others =
    alike.length > 1
      ? `, or ${alike
          .slice(1)
          .map(({ name }) => name)
          .join(", ")}`
      : "";
  const says = commentText(`says: ${model || "no model"}, ${mode?.slots ?? "?"} slots${others}`);
  return `${entry}   # ${says}`;
};

/** What a fixture says stands in a comment, where it can end no line and begin no key. */
const commentText = (words: string): string => firstCharacters(words.replaceAll(/[\p{Cc}\p{Zl}\p{Zp}#]/gu, " "), 100);
