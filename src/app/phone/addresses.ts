import { networkInterfaces } from "node:os";

/** An address of this computer in the local network, and the adapter that has it. */
export interface OwnAddress {
  readonly address: string;
  readonly adapter: string;
}

/** Addresses at which a phone could reach this computer: IPv4, not its own loop, not one that it gave itself for want of a network (RFC 3927). */
export const ownAddresses = (adapters = networkInterfaces()): readonly OwnAddress[] =>
  Object.entries(adapters).flatMap(([adapter, entries = []]) =>
    entries
      .filter(({ family, internal, address }) => family === "IPv4" && !internal && !address.startsWith("169.254."))
      .map(({ address }) => ({ address, adapter })),
  );

/** Whether this computer has an address; its own loop counts, for trying out. */
export const isOwn = (address: string, adapters = networkInterfaces()): boolean =>
  Object.values(adapters).some((entries = []) => entries.some((one) => one.address === address));
