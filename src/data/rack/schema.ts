import { z } from "zod";

/** The shape of a rack file: the fixtures plugged up together. Transform-free, so that a JSON Schema can be made of it. */

const words = z.string().min(1).max(60);
const positive = z.number().positive();
const universe = z.int().min(1).max(63999);

export const fixtureEntry = z.strictObject({
  serial: words.describe("Serial number, as on its plate"),
  uid: z
    .string()
    .regex(/^[0-9A-Fa-f]{4}:[0-9A-Fa-f]{8}$/, "four and eight hex digits, as in 7FF0:00000002")
    .optional()
    .describe("What it answers to over RDM; limber rdm find reads it"),
  profile: words.describe("Kind and mode: a name or a file"),
  shelf: words.describe("As a person would say it: top shelf, left case"),
  place: words.describe("On that shelf: 3rd from the left"),
  universe: universe.optional().describe("Which of the DMX lines it hangs on"),
  address: z.int().min(1).max(512).optional().describe("Start address; limber rack address proposes one"),
  ganged: z.boolean().optional().describe("Shares its address on purpose with others of its kind and mode"),
  branch: words.optional().describe("The output of a splitter that it hangs on"),
  circuit: words.optional().describe("One of the circuits named above"),
});

const line = z.strictObject({
  universe: universe.describe("The universe that goes out there"),
  output: words.describe("As for --output: serial:PATH, break:PATH, sacn:UNIVERSE, artnet:UNIVERSE or sim"),
  to: words.optional().describe("Address that packets are sent to, for outputs on a network"),
});

const circuit = z.strictObject({
  rating_a: positive.describe("Of its breaker or fuse"),
  volts: positive.describe("Of the mains"),
  continuous_factor: positive
    .max(1)
    .optional()
    .describe("Share of the rating that may flow for hours: 0.8 unless your local code says otherwise"),
  rcd: words.optional().describe("One of the RCDs named below"),
});

const rcd = z.strictObject({
  leakage_budget_ma: positive.describe("For all fixtures behind it together, well below what trips it"),
});

const groupSize = z.int().min(1).max(24);

export const rackFile = z.strictObject({
  rack: z
    .string()
    .regex(/^[a-z0-9][a-z0-9-]*$/, "small letters, digits and hyphens only")
    .describe("Name of the rack, as the file is called"),
  title: words.describe("As people read it"),
  lines: z.array(line).min(1).describe("Which universe goes out where"),
  circuits: z.record(z.string(), circuit).optional().describe("Mains circuits by name: what each can carry"),
  rcds: z.record(z.string(), rcd).optional().describe("Residual current devices by name"),
  groups: z
    .strictObject({
      broad: groupSize
        .optional()
        .describe("Watched at once for movement and colour, usually 6, or up to 8 of one kind"),
      fine: groupSize.optional().describe("Watched at once for gobos and focus, usually 3, or 4 of one kind"),
    })
    .optional()
    .describe("How many fixtures one person watches at once"),
  fixtures: z.array(fixtureEntry).min(1).max(500).describe("Every fixture of the rack"),
});
export type RackFile = z.infer<typeof rackFile>;
export type FixtureEntry = z.infer<typeof fixtureEntry>;
