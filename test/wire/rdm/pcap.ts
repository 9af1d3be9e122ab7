import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** One packet as tshark, which is not ours, takes it apart: field name to what it shows, in the order of the packet. */
export type Dissected = readonly { readonly name: string; readonly show: string; readonly words: string }[];

export const noTshark = (): string | undefined =>
  spawnSync("tshark", ["--version"]).status === 0
    ? undefined
    : "SKIPPED: tshark is not installed (apt-get install tshark)";

/** UDP payloads to the port of Art-Net, read by tshark from a capture file that is written here: nothing is sent. */
export const dissected = (payloads: readonly Uint8Array[]): readonly Dissected[] => {
  const folder = mkdtempSync(join(tmpdir(), "limber-pcap-"));
  const file = join(folder, "packets.pcap");
  writeFileSync(file, Buffer.concat([HEAD, ...payloads.map(recordOf)]));
  const { stdout } = spawnSync("tshark", ["-r", file, "-T", "pdml"], { encoding: "utf8", maxBuffer: 1e8 });
  rmSync(folder, { recursive: true });
  return stdout
    .split("<packet>")
    .slice(1)
    .map((packet) =>
      [...packet.matchAll(/<field name="([^"]*)"(?: showname="([^"]*)")?[^>]*? show="([^"]*)"/g)].map(
        ([, name = "", words = "", show = ""]) => ({ name, show, words }),
      ),
    );
};

/** The value of a field; all of them, joined by commas, where it comes several times. */
export const fieldOf = (packet: Dissected, name: string): string =>
  packet
    .filter((field) => field.name === name)
    .map(({ show }) => show)
    .join(",");

/** Little-endian pcap 2.4, of raw IPv4. */
const HEAD = Buffer.from("d4c3b2a1020004000000000000000000ffff000065000000", "hex");

const recordOf = (payload: Uint8Array): Buffer => {
  const [ip, udp] = [Buffer.alloc(20), Buffer.alloc(8)];
  ip.set([0x45, 0, 0, 0, 0, 0, 0, 0, 64, 17, 0, 0, 127, 0, 0, 1, 127, 0, 0, 1]);
  ip.writeUInt16BE(28 + payload.length, 2);
  for (const at of [0, 2]) udp.writeUInt16BE(6454, at);
  udp.writeUInt16BE(8 + payload.length, 4);
  const times = Buffer.alloc(16);
  for (const at of [8, 12]) times.writeUInt32LE(28 + payload.length, at);
  return Buffer.concat([times, ip, udp, payload]);
};
