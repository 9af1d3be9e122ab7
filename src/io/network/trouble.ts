import { LineError, type LineTrouble } from "../../run/ports.ts";

/** Where frames go. */
export interface Target {
  /** "sACN", for words. */
  readonly protocol: string;
  /** IPv4. */
  readonly address: string;
  readonly port: number;
}

type Words = (target: Target) => string;

const noWay: Words = ({ address }) =>
  `this computer has no way to ${address}: network cable in, and an address of its own on the same network?`;

const hangs: Words = ({ address }) =>
  `the network adapter takes no more data for ${address}: unplug it and plug it in again`;

/** What the system says when it cannot send, by its own names. */
const CAUSES: Readonly<Record<string, readonly [LineTrouble, Words]>> = {
  ENETUNREACH: ["unreachable", noWay],
  EADDRNOTAVAIL: ["unreachable", noWay],
  ENETDOWN: ["unreachable", noWay],
  EHOSTUNREACH: [
    "unreachable",
    ({ address }) => `${address} cannot be reached: is it switched on, and on the same network?`,
  ],
  ECONNREFUSED: [
    "refused",
    ({ address, protocol }) =>
      `${address} is there but takes no ${protocol}: another address was meant, or ${protocol} is switched off in it`,
  ],
  EPERM: [
    "no-permission",
    ({ address, protocol, port }) =>
      `a firewall on this computer keeps ${protocol} from ${address}: it must let UDP out to port ${port}`,
  ],
  EACCES: [
    "refused",
    ({ address }) => `${address} is a broadcast address, which would reach everything: name the one receiver`,
  ],
  ENOBUFS: ["stalled", hangs],
};

/** Why nothing can be sent, in words a technician can act on. A cause that is a LineError already stays as it is. */
export const networkTrouble = (target: Target, cause: unknown): LineError => {
  if (cause instanceof LineError) return cause;
  const known = cause instanceof Error && "code" in cause ? CAUSES[String(cause.code)] : undefined;
  const [code, words] = known ?? ["refused", noneOfThese(cause)];
  return new LineError(code, words(target), { cause });
};

const noneOfThese =
  (cause: unknown): Words =>
  ({ address, protocol }) =>
    `${protocol} cannot be sent to ${address}: ${String(cause)}`;

/** The error for a network cable that is out, or a receiver that is switched off. */
export const cableOut = ({ address }: Target): LineError =>
  new LineError("unplugged", `the network cable on the way to ${address} is out, or the other end is switched off`);

/** The error for a network adapter that takes no more packets. */
export const adapterHangs = (target: Target): LineError => new LineError("stalled", hangs(target));
