import { expect, test } from "vitest";
import { fittedOf } from "../../src/data/profile/profile.ts";
import { mechanismsOf } from "../../src/diagnosis/model/places.ts";
import { CLEANING_IDS, PAD_RULES } from "../../src/domain/trade/cleanings.ts";
import { type CoverId, OPENING } from "../../src/domain/trade/hold-points.ts";
import { alwaysDue, inspection, isSafetyInspection } from "../../src/domain/trade/inspections.ts";
import { type LightSourceId, sourceCaution } from "../../src/domain/trade/mechanisms.ts";
import type { HandTask } from "../../src/run/session/by-hand/task.ts";
import type { Session } from "../../src/run/session/session.ts";
import { pageOf } from "../../src/ui/page.ts";
import { linesOf } from "../../src/ui/phone/lines.ts";
import { Driven, jobOf } from "../kit/driven.ts";
import { shippedProfile } from "../kit/shipped.ts";
import { sightOf, textOf } from "./sights.ts";

const asked = (task: HandTask): Session => {
  const { session } = new Driven(jobOf(["sweep: Pan"])).started();
  return { ...session, stage: { kind: "by-hand", task } };
};

const UNDER = (cover: CoverId) =>
  alwaysDue(mechanismsOf(fittedOf(shippedProfile("spot-16bit")))).filter(
    (id) => inspection(id).cover === cover && !isSafetyInspection(id),
  );
const HEAD = UNDER("head").slice(0, 8);
const YOKE = UNDER("yoke").slice(0, 8);

test.each<[string, HandTask]>([
  ["hold-point", { kind: "hold-point", point: "isolated", step: undefined, next: undefined }],
  ["look", { kind: "look", inspection: "yoke-wires", why: "proposed", note: "brown here", photo: "yoke-1.jpg" }],
  ["clean", { kind: "clean", cleaning: "inner-lenses", dirt: "ordinary", note: "" }],
  ["looks", { kind: "looks", cover: "head", inspections: HEAD, more: 7 }],
  ["looks-yoke", { kind: "looks", cover: "yoke", inspections: YOKE, more: 0 }],
  ["dirt", { kind: "dirt" }],
  ["cleans", { kind: "cleans", cleanings: CLEANING_IDS, dirt: "ordinary" }],
  ["cleans-dust", { kind: "cleans", cleanings: CLEANING_IDS, dirt: "light" }],
  ["reading", { kind: "reading", reading: "earth-continuity", step: "earth", value: 0.08, initials: "", note: "" }],
  ["fault", { kind: "fault", choices: ["iris-leaf-bent", "iris-burnt"], note: "" }],
  ["mend", { kind: "mend", mended: "pan-belt-slack", part: "belt", minutes: 25, initials: "KM", note: "" }],
  [
    "blocked",
    {
      kind: "blocked",
      dangers: [{ words: "bare or scorched conductor in the yoke", source: "yoke-wires", wants: "repair" }],
    },
  ],
  ["once-more", { kind: "once-more", index: 0, clean: 4, needed: 14 }],
  [
    "sign-not-yet",
    { kind: "sign", reasons: [{ rule: "failed", words: "failed, not passed since: pan: full sweep" }], note: "" },
  ],
  ["sign", { kind: "sign", reasons: [], note: "" }],
])("the page by hand: %s", async (name, task) => {
  await expect(`${textOf(pageOf(sightOf(asked(task))))}\n`).toMatchFileSnapshot(`./pages/by-hand-${name}.txt`);
});

test("a cover that is off already costs no minutes more", () => {
  const look = { kind: "look", inspection: "yoke-wires", why: "proposed", note: "", photo: "" } as const;
  const page = (session: Session) => textOf(pageOf(sightOf(session))).replaceAll(/\s+/g, " ");
  const closed = asked(look);
  const open: Session = {
    ...closed,
    holds: OPENING,
    view: {
      ...closed.view,
      inspected: [{ kind: "inspected", inspection: "pan-belt-tension", answer: "good", note: "" }],
    },
  };
  expect(page(closed)).toContain("about 1 min, 5 min more to open and close it.");
  expect(page(open)).toContain("about 1 min.");
});

/** The same fixture, with another source of light. */
const withSource = (session: Session, kind: LightSourceId): Session => {
  const { job } = session;
  const profile = { ...job.timeline.profile, lamp: { ...job.timeline.profile.lamp, kind } };
  return { ...session, job: { ...job, timeline: { ...job.timeline, profile } } };
};
const pageWords = (session: Session): string => textOf(pageOf(sightOf(session))).replaceAll(/\s+/g, " ");

const phoneWords = (session: Session): string =>
  linesOf(sightOf(session))
    .map(({ text }) => text)
    .join(" ");

test.each(["discharge", "laser", "ultraviolet"] as const)(
  "before covers come off a %s source its own caution is read, whole, on a phone too, and the answer is on the page",
  (kind) => {
    for (const point of ["cool", "cover-removed"] as const) {
      const session = withSource(asked({ kind: "hold-point", point, step: undefined, next: undefined }), kind);
      const page = pageWords(session);
      expect(page).toContain(sourceCaution(kind));
      expect(page).toContain(": confirmed.");
      expect(phoneWords(session)).toContain(sourceCaution(kind));
    }
  },
);

test.each(["laser", "ultraviolet"] as const)(
  "before anything moves a %s source has its caution, too, on screen and phone",
  (kind) => {
    const { session } = new Driven(jobOf(["sweep: Pan"])).begin();
    const page = pageWords(withSource(session, kind));
    for (const words of [page, phoneWords(withSource(session, kind))]) {
      expect(words).toContain(sourceCaution(kind));
      expect(words).toContain("may swing once");
    }
    expect(page).toContain("C: all of this is confirmed.");
  },
);

test("while it soaks it is said what to get ready, and how pads are used; how dirty it was is asked where nobody knows, and remembered else", () => {
  const job = jobOf(["{ soak: [Pan, Tilt], seconds: 1200 }", "clean: due"], { mode: "hands-off" });
  const asked = new Driven(job).started();
  expect(pageWords(asked.session)).toContain("how dirty is it? Type the number: 1 dust only");
  asked.send({ kind: "choose", offer: 1 });
  const before = { run: "earlier", person: "KM", body: { kind: "dirt-judged", dirt: "light" } } as const;
  const remembered = new Driven({ ...job, past: [before] }).started();
  expect(pageWords(asked.session)).toContain("get ready for cleaning (haze and dust):");
  expect(pageWords(remembered.session)).toContain("get ready for cleaning (dust only, as the last time):");
  for (const { session } of [asked, remembered])
    for (const rule of PAD_RULES) expect(pageWords(session)).toContain(rule);
});
