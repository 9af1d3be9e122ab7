import { placeInWords } from "../data/rack/rack.ts";
import { safeText } from "../domain/problem/terminal.ts";
import { type Batch, memberAt, rackQuestionOf } from "../run/batch/batch.ts";
import { refusedLines } from "./foot-rows.ts";
import { fixtureKeys, letterOf } from "./rack-keys.ts";
import { stateOf } from "./rack-states.ts";
import { toldNow } from "./rack-telling.ts";
import { sentencesOf } from "./sentences.ts";
import type { RackSight } from "./sight.ts";

/** What has changed from one sight of the rack to the next. */
export const rackChanges = (before: RackSight | undefined, now: RackSight): readonly string[] => {
  const fresh = !before || rackQuestionOf(before.batch) !== rackQuestionOf(now.batch);
  const answers = before && !fresh && now.listening && !before.listening ? newIn(before, now) : [];
  const refused = now.refused && now.refused !== before?.refused ? sentencesOf(refusedLines(now), now.listening) : [];
  return [...refused, ...(fresh ? opening(now) : answers), ...(before ? differing(before, now) : [])];
};

/** How to answer, once an answer is taken. */
const newIn = (before: RackSight, now: RackSight): readonly string[] => {
  const told = opening(before);
  return opening(now).filter((sentence) => !told.includes(sentence));
};

/** A new question, or a step that begins. */
const opening = (sight: RackSight): readonly string[] => {
  const { headline, above, below } = toldNow(sight);
  const sentences = sentencesOf([...above, ...below], sight.listening);
  return [headline.toUpperCase(), ...sentences, keysInWords(sight)].filter((text) => text !== "");
};

const keysInWords = ({ batch, desk, plan }: RackSight): string => {
  const keys = [...fixtureKeys(batch, desk.leafed, plan)].map(
    ([index]) => `${letterOf(index, plan).label} ${safeText(placeInWords(memberAt(batch, index).place))}`,
  );
  return keys.length > 0 ? `Letters: ${keys.join("; ")}.` : "";
};

const differing = (before: RackSight, now: RackSight): readonly string[] =>
  now.batch.members.flatMap((member, index) => {
    const [was, is] = [pressesOf(before.batch, index), pressesOf(now.batch, index)];
    const states = [before.batch.members[index] ? stateOf(before.batch, index) : "", stateOf(now.batch, index)];
    const name = `${safeText(placeInWords(member.place))}, ${safeText(member.serial)}`;
    if (is > was) return [`${name}: pressed.`];
    return SAID.includes(states[1] ?? "") && states[0] !== states[1] ? [`${name}: ${states[1]}.`] : [];
  });
const SAID: readonly string[] = ["withdrawn", "line lost", "odd"];

const pressesOf = (batch: Batch, index: number): number =>
  batch.members[index]?.session.view.steps.reduce((sum, { presses }) => sum + presses.length, 0) ?? 0;
