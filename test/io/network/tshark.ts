import { spawn, spawnSync } from "node:child_process";
import { createSocket } from "node:dgram";
import { createInterface } from "node:readline";

/** A packet as tshark, which is not ours, reads it off the loopback network. */
export interface Decoded {
  readonly protocol: "sACN" | "Art-Net";
  readonly universe: number;
  readonly sequence: number;
  readonly terminated: boolean;
  /** CID, name and priority, sACN only. */
  readonly source: string;
  /** Slot 1 first; of sACN by the slot numbers that tshark gives. */
  readonly slots: readonly number[];
}

/** Why tshark cannot be the second opinion here, or undefined when it can. */
export const tsharkMissing = (): string | undefined => {
  const { error, status } = spawnSync("tshark", ["-i", "lo", "-L"], { encoding: "utf8" });
  if (error) return "SKIPPED: tshark is not installed (apt-get install tshark)";
  return status === 0 ? undefined : "SKIPPED: tshark may not capture on lo for this user (root may)";
};

const FIELDS = [
  "udp.dstport",
  "udp.payload",
  "acn.dmx.universe",
  "acn.dmx.seq_number",
  "acn.dmx.option_s",
  "acn.cid",
  "acn.dmx.source_name",
  "acn.dmx.priority",
  "acn.dmx.data",
  "artnet.output.universe",
  "artnet.output.sequence",
  "artnet.output.length",
];

/** Nobody speaks on this port (discard, RFC 863): packets to it say that the capture has begun, and that it may end. */
const MARK = 9;

/** Everything that goes to this address while `work` is done. */
export const capturing = async (address: string, work: () => Promise<void>): Promise<readonly Decoded[]> => {
  const tshark = spawn(
    "tshark",
    ["-i", "lo", "-l", "-n", "-f", `udp and dst host ${address}`, "--enable-heuristic", "acn"].concat(
      ["-o", "acn.dmx_enable:TRUE", "-T", "fields", "-E", "separator=/t"],
      FIELDS.flatMap((field) => ["-e", field]),
    ),
    { stdio: ["ignore", "pipe", "ignore"] },
  );
  const rows: string[] = [];
  let looked = () => {};
  createInterface(tshark.stdout).on("line", (row) => {
    rows.push(row);
    looked();
  });
  const marked = async (what: "begins" | "ends") => {
    const socket = createSocket("udp4");
    const mark = `${MARK}\t${Buffer.from(what).toString("hex")}`;
    const again = setInterval(() => socket.send(what, MARK, address), 100);
    await new Promise<void>((resolve) => {
      looked = () => rows.some((row) => row.startsWith(mark)) && resolve();
    });
    clearInterval(again);
    socket.close();
  };
  try {
    await marked("begins");
    await work();
    await marked("ends");
  } finally {
    tshark.kill();
  }
  return rows.filter((row) => !row.startsWith(`${MARK}\t`)).map(decoded);
};

const decoded = (row: string): Decoded => {
  const [, payload = "", ...cells] = row.split("\t");
  const [universe, sequence, option, cid, name, priority, data = "", artUniverse, artSequence, artLength] = cells;
  if (universe)
    return {
      protocol: "sACN",
      universe: Number(universe),
      sequence: Number(sequence),
      terminated: option === "1",
      source: `${cid} ${name} ${priority}`,
      slots: slotsOf(data),
    };
  return {
    protocol: "Art-Net",
    universe: Number(artUniverse),
    sequence: Number(artSequence),
    terminated: false,
    source: "",
    slots: [...Buffer.from(payload, "hex").subarray(-Number(artLength))],
  };
};

/** "041-060: 28 29 .. | ...": the last slot of the row, then its levels in hex, two dots for a zero. */
const slotsOf = (data: string): readonly number[] => {
  const slots: number[] = [];
  for (const row of data.split(",")) {
    const [, to, levels = ""] = /^\d+-(\d+): (.*)$/.exec(row) ?? [];
    if (to === undefined) continue;
    for (const cell of levels.split(/[\s|]+/).filter((text) => text !== ""))
      slots.push(cell === ".." ? 0 : Number.parseInt(cell, 16));
    if (slots.length !== Math.min(512, Number(to))) throw new Error(`tshark's row ends elsewhere: ${row}`);
  }
  return slots;
};
