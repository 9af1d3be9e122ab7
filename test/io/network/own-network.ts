import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { built } from "../../kit/built.ts";

/** Why no network of its own can be made here, or undefined when it can. */
export const ownNetworkMissing = (): string | undefined =>
  spawnSync("unshare", ["-n", "ip", "link", "set", "lo", "up"]).status === 0
    ? undefined
    : "SKIPPED: no network of its own can be made here (Linux with unshare and ip, as root)";

/**
 * Runs a script in a process with a network of its own, in which nothing is but what `cables` lays; gives what it said,
 * line by line, when the process has ended by itself.
 */
export const inOwnNetwork = (cables: readonly string[], script: string): readonly string[] => {
  const lay = ["ip link set lo up", ...cables].join(" && ");
  const program = `
    import { execFileSync } from "node:child_process";
    import { createSocket } from "node:dgram";
    const { sacnLine } = await import(${JSON.stringify(join(built(), "io/network/lines.js"))});
    const ip = (words) => execFileSync("ip", words.split(" "));
    const say = (...words) => console.log(...words);
    const turn = () => new Promise((resolve) => setTimeout(resolve, 1));
    const open = (line) => line.open((error) => losses.push(error.code)).then(() => "open", (error) => error.code);
    const losses = [];
    const sendUntil = async (line, done) => {
      for (let frame = 0; !done(); frame += 1) {
        line.send(new Uint8Array(512).fill(frame & 255));
        await turn();
      }
    };
    ${script}`;
  const ended = spawnSync(
    "unshare",
    ["-n", "sh", "-c", `${lay} && exec "$0" --input-type=module --eval "$1"`, process.execPath, program],
    { encoding: "utf8", timeout: 20_000 },
  );
  if (ended.status !== 0) throw new Error(`it ended with ${ended.status ?? ended.signal}: ${ended.stderr}`);
  return ended.stdout.trimEnd().split("\n");
};

/** A cable from this computer (10.9.0.1) to a receiver that is not there (10.9.0.2). */
export const CABLE = [
  "ip link add here type veth peer name there",
  "ip addr add 10.9.0.1/24 dev here",
  "ip link set here up",
  "ip link set there up",
];
