import { fittedOf } from "../../data/profile/profile.ts";
import { knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import { whatNext } from "../../diagnosis/model/next.ts";
import type { Offer } from "../../diagnosis/model/offer.ts";
import { drivableOn } from "../../diagnosis/model/probe.ts";
import { type Ranked, rank } from "../../diagnosis/model/rank.ts";
import type { Learned } from "../../diagnosis/model/shop.ts";
import { coverWords } from "../../domain/trade/hold-points.ts";
import { offerInWords, settledInWords } from "../../reports/next-words.ts";
import { hanging } from "../../reports/wrap.ts";
import { answersOf, observationsOf } from "../../run/events/observations.ts";
import { EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import { shopHistory } from "../common/shop.ts";
import { keptRun } from "../fixture/kept-run.ts";
import { openHere } from "./with-journal.ts";

/** What may be wrong after a run, with all the numbers and where each comes from, and what to do next. */
export const showFaults = async (file: string, name: string, json: boolean): Promise<ExitCode> => {
  const journal = await openHere(file);
  try {
    const kept = await keptRun(journal, name);
    if (!kept.ok) return refuse(kept.problems);
    const { view, material, run } = kept.value;
    const { learned, cases } = await shopHistory(journal);
    const { value: profile } = material.profile;
    const seen = [fittedOf(profile), observationsOf(view, profile), answersOf(view)] as const;
    const ranking = rank(...seen, learned);
    const advice = whatNext(...seen, [], learned, drivableOn(profile, material.bench.value));
    const faults = ranking.faults.slice(0, 10).map((fault) => withOrigin(fault, learned));
    if (json)
      print(
        JSON.stringify(
          { run, simulated: view.opened?.simulated, cases: cases.length, faults, warnings: ranking.warnings, advice },
          undefined,
          2,
        ),
      );
    else
      print(
        [
          ...(view.opened?.simulated ? ["SIMULATED: a simulated fixture, not a real one."] : []),
          ...faults.flatMap(tell),
          "",
          ...OPENING_CAUTIONS.flatMap((words) => hanging("! ", words, WIDTH)),
          "",
          ...ranking.warnings.flatMap(({ say }) => hanging("! ", say, WIDTH)),
          "",
          "What to do next",
          ...(advice.kind === "offers" ? advice.offers.flatMap(tellOffer) : [`  ${settledInWords(advice)}`]),
        ].join("\n"),
      );
    return EXIT.done;
  } finally {
    await journal.close();
  }
};

const WIDTH = 78;

/** Beside every remedy: it is done with a cover off. Common practice, no source. */
const OPENING_CAUTIONS = [
  "before a cover comes off: isolate from the mains, lock off, prove dead, let stored charge and heat go",
  "a lamp can burst while it is hot; a laser or ultraviolet source harms eyes and skin: only who is trained for it",
  "the maker's manual, local codes and a qualified person come before these words",
];

/** Until somebody has found or cleared a fault here, its number is a starter value. */
const withOrigin = (fault: Ranked, { priors }: Learned) => {
  if (fault.kind !== "fault") return { ...fault, usual: undefined, origin: "what is left when no fault is there" };
  const own = priors[fault.id];
  const { prior, origin } = knownFault(fault.id);
  return own
    ? {
        ...fault,
        usual: own.value,
        origin: `this shop: found ${own.yes} of ${own.of} times, on top of a starter value`,
      }
    : { ...fault, usual: prior, origin };
};

const tell = (fault: ReturnType<typeof withOrigin>): readonly string[] => [
  ...hanging(`${percent(fault.probability).padStart(6)}  `, `${fault.title}  [${fault.id}]`, WIDTH),
  ...(fault.usual === undefined
    ? []
    : hanging("        usual: ", `${percent(fault.usual)} of check-ins (${fault.origin})`, WIDTH)),
  ...(fault.because.length > 0 ? hanging("        for: ", fault.because.join("; "), WIDTH) : []),
  ...(fault.against.length > 0 ? hanging("        against: ", fault.against.join("; "), WIDTH) : []),
  ...(fault.kind === "fault"
    ? hanging(
        "        to do: ",
        `${fault.remedy}; ${coverWords(fault.cover)}; ${fault.part}; ${fault.tool}; ${fault.minutes} min`,
        WIDTH,
      )
    : []),
];

const tellOffer = (offer: Offer): readonly string[] => hanging("  - ", offerInWords(offer), WIDTH);
const percent = (share: number): string => `${(share * 100).toFixed(1)} %`;
