import { isIP } from "node:net";
import { networkInterfaces } from "node:os";
import { dirname, join } from "node:path";
import { bad, good, problem, type Result } from "../../domain/problem/problem.ts";
import { readPrivate, writePrivate } from "../../io/files/outside.ts";
import { type Identity, identityIn, identityText, ownIdentity } from "../../io/phone/certificate.ts";
import { photoFolder } from "../../io/phone/photos.ts";
import { phoneThread, type Serving } from "../../io/phone/thread.ts";
import { typedLines } from "../../ui/typed-lines.ts";
import { hasTerminal, nobodyThere } from "../fixture/eyes.ts";
import { Phone } from "./beside.ts";
import { letPhonesIn } from "./pairing.ts";

/** What was said of phones when a command began. */
interface PhoneChoice {
  /** The address to listen at; "" where it was not said. */
  readonly address: string;
  /** The shop's own certificate, a file; undefined: the bench's. */
  readonly certificate: string | undefined;
  /** How many phones may be paired; the first answers, the others watch. */
  readonly most: number;
}

/**
 * Serves phones for as long as `work` lasts; without a choice nothing listens and nothing of it is loaded before this.
 * Refused without a terminal, and where the address or the certificate is wrong.
 */
export const openPhone = async (choice: PhoneChoice, journal: string): Promise<Result<Phone | undefined>> => {
  if (!hasTerminal()) return bad(nobodyThere());
  const address = await chosenAddress(choice.address);
  if (!address.ok) return address;
  const identity = identityFor(choice, journal, address.value);
  if (!identity.ok) return identity;
  const serving: Serving = {
    identity: identity.value,
    address: address.value,
    name: choice.certificate === undefined ? address.value : nameIn(identity.value, address.value),
    port: 0,
    most: choice.most,
    photos: photoFolder(journal),
  };
  const door = phoneThread(serving);
  const paired = await letPhonesIn(door, serving);
  if (paired.ok && paired.value > 0) return good(new Phone(door));
  await door.close();
  return paired.ok ? good(undefined) : paired;
};

/** The only one, or the one that was said; of several a person chooses. */
const chosenAddress = async (said: string): Promise<Result<string>> => {
  const all = ownAddresses();
  const list = all.map(({ address, adapter }) => `${address} (${adapter})`).join(", ");
  if (said !== "")
    return isOwn(said)
      ? good(said)
      : bad(problem("--phone", `this computer has no address ${said}`, list || undefined));
  const [only] = all;
  if (!only)
    return bad(problem("--phone", "this computer is in no local network", "join the one that the phone is in"));
  if (all.length === 1) return good(only.address);
  const lines = typedLines();
  lines.say("At which address shall the phone find this computer? A digit, then ENTER.");
  for (const [at, { address, adapter }] of all.entries()) lines.say(`  ${at + 1}  ${address}  (${adapter})`);
  const line = await lines.next();
  lines.close();
  const chosen = all[Number(line?.trim()) - 1];
  return chosen ? good(chosen.address) : bad(problem("--phone", "which of several addresses was not said", list));
};

const identityFor = ({ certificate }: PhoneChoice, journal: string, address: string): Result<Identity> => {
  if (certificate !== undefined) {
    const read = identityIn(readPrivate(certificate) ?? "");
    return read
      ? good(read)
      : bad(
          problem(
            certificate,
            "no private key with its certificate can be read from this file",
            "one PEM file holds the key, the certificate and all that lead to its authority",
          ),
        );
  }
  const file = join(dirname(journal), "phone-certificate.pem");
  const kept = readPrivate(file) ?? "";
  const own = ownIdentity(kept, address, new Date());
  const text = identityText(own);
  const trouble = text === kept ? undefined : writePrivate(file, text);
  return trouble === undefined ? good(own) : bad(problem(file, trouble));
};

/** A shop's certificate stands for a name, and the phone has to call the bench by it. */
const nameIn = ({ names }: Identity, address: string): string =>
  names.includes(address) ? address : (names.find((name) => isIP(name) === 0 && !name.startsWith("*")) ?? address);

/** An address of this computer in the local network, and the adapter that has it. */
interface LocalAddress {
  readonly address: string;
  readonly adapter: string;
}

/** Addresses at which a phone could reach this computer: IPv4, not its own loop, not one that it gave itself for want of a network (RFC 3927). */
const ownAddresses = (): readonly LocalAddress[] =>
  Object.entries(networkInterfaces()).flatMap(([adapter, entries = []]) =>
    entries
      .filter(({ family, internal, address }) => family === "IPv4" && !internal && !address.startsWith("169.254."))
      .map(({ address }) => ({ address, adapter })),
  );

/** Whether this computer has an address; its own loop counts, for trying out. */
const isOwn = (address: string): boolean =>
  Object.values(networkInterfaces()).some((entries = []) => entries.some((one) => one.address === address));
