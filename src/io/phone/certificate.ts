import {
  createPrivateKey,
  createPublicKey,
  generateKeyPairSync,
  type KeyObject,
  randomBytes,
  sign,
  X509Certificate,
} from "node:crypto";
import { isIP } from "node:net";

/** What a server shows who it is with: PEM texts, and the fingerprint that a person can compare. */
export interface Identity {
  readonly key: string;
  readonly certificate: string;
  /** SHA-256 of the certificate, as browsers show it. */
  readonly fingerprint: string;
  /** The addresses and names that it stands for. */
  readonly names: readonly string[];
}

/** Key and certificate as one text, to be kept for the next time. */
export const identityText = ({ key, certificate }: Identity): string => `${key.trim()}\n${certificate.trim()}\n`;

/**
 * The bench's own certificate: as it was kept, or made at the first use; made anew, with the same key, for an address that
 * it does not know yet or when it runs out.
 */
export const ownIdentity = (kept: string, address: string, now: Date): Identity => {
  const before = identityIn(kept);
  if (before?.names.includes(address) && isGoodFor(before, now)) return before;
  const key = before?.key ?? newKey();
  const names = [...new Set([...(before?.names ?? []), address])].slice(-MOST_NAMES);
  const made = identityIn(`${key}\n${selfSigned(createPrivateKey(key), names, now)}`);
  if (!made) throw new Error("Bug: a certificate of our own that cannot be read");
  return made;
};

/** A private key and its certificate, with all that lead to its authority, in one PEM text; undefined where they are not both there or do not belong together. */
export const identityIn = (text: string): Identity | undefined => {
  const key = KEY.exec(text)?.[0];
  const certificate = text.match(CERTIFICATES)?.join("\n");
  if (!key || !certificate) return undefined;
  try {
    const read = new X509Certificate(certificate);
    if (!read.checkPrivateKey(createPrivateKey(key))) return undefined;
    return { key, certificate, fingerprint: read.fingerprint256, names: namesIn(read.subjectAltName ?? "") };
  } catch {
    return undefined;
  }
};

const KEY = /-----BEGIN (?:EC |RSA )?PRIVATE KEY-----[^-]+-----END (?:EC |RSA )?PRIVATE KEY-----/;
const CERTIFICATES = /-----BEGIN CERTIFICATE-----[^-]+-----END CERTIFICATE-----/g;

const namesIn = (names: string): readonly string[] =>
  names.split(", ").flatMap((name) => /^(?:DNS|IP Address):([^"]+)$/.exec(name)?.[1] ?? []);

const MOST_NAMES = 20;
/** Phones take certificates of at most 825 days (from memory: what browsers ask of any certificate). */
const LASTS_DAYS = 820;
const DAY_MS = 86_400_000;

const newKey = (): string =>
  generateKeyPairSync("ec", {
    namedCurve: "P-256",
    privateKeyEncoding: { type: "pkcs8", format: "pem" },
    publicKeyEncoding: { type: "spki", format: "pem" },
  }).privateKey;

const isGoodFor = ({ certificate }: Identity, now: Date): boolean =>
  new Date(new X509Certificate(certificate).validTo).getTime() - now.getTime() > DAY_MS;

/**
 * A certificate for these addresses and names, signed with its own key (RFC 5280, DER of ITU-T X.690). What it says is one
 * structure of known shape; a library for all of X.509 would bring two dozen packages for it.
 */
const selfSigned = (key: KeyObject, names: readonly string[], now: Date): string => {
  const algorithm = sequence(oid(ECDSA_WITH_SHA256));
  const name = sequence(set(sequence(oid(COMMON_NAME), der(0x0c, Buffer.from("Limber bench")))));
  const spki = createPublicKey(key).export({ type: "spki", format: "der" });
  const extensions = [
    extension(SUBJECT_ALT_NAME, sequence(...names.map(altName))),
    extension(BASIC_CONSTRAINTS, sequence()),
    extension(EXTENDED_KEY_USAGE, sequence(oid(SERVER_AUTH))),
  ];
  const toSign = sequence(
    der(0xa0, integer(Buffer.of(2))),
    integer(Buffer.concat([Buffer.of(1), randomBytes(15)])),
    algorithm,
    name,
    sequence(time(new Date(now.getTime() - DAY_MS)), time(new Date(now.getTime() + LASTS_DAYS * DAY_MS))),
    name,
    spki,
    der(0xa3, sequence(...extensions)),
  );
  const signature = sign("sha256", toSign, { key, dsaEncoding: "der" });
  const whole = sequence(toSign, algorithm, bits(signature));
  const lines = whole.toString("base64").match(/.{1,64}/g) ?? [];
  return `-----BEGIN CERTIFICATE-----\n${lines.join("\n")}\n-----END CERTIFICATE-----\n`;
};

/** Object identifiers by their numbers: ANSI X9.62, ITU-T X.520, RFC 5280 sections 4.2.1.6, 4.2.1.9 and 4.2.1.12. */
const ECDSA_WITH_SHA256 = [1, 2, 840, 10045, 4, 3, 2];
const COMMON_NAME = [2, 5, 4, 3];
const SUBJECT_ALT_NAME = [2, 5, 29, 17];
const BASIC_CONSTRAINTS = [2, 5, 29, 19];
const EXTENDED_KEY_USAGE = [2, 5, 29, 37];
const SERVER_AUTH = [1, 3, 6, 1, 5, 5, 7, 3, 1];

const extension = (id: readonly number[], value: Buffer): Buffer => sequence(oid(id), der(0x04, value));

const altName = (name: string): Buffer => {
  const kind = isIP(name);
  if (kind === 0) return der(0x82, Buffer.from(name, "ascii"));
  if (kind === 4) return der(0x87, Buffer.from(name.split(".").map(Number)));
  return der(0x87, ipv6Bytes(name));
};

const ipv6Bytes = (address: string): Buffer => {
  const [head = "", tail] = address.split("%")[0]?.split("::") ?? [];
  const groups = (part: string | undefined) => (part ? part.split(":") : []);
  const [before, after] = [groups(head), groups(tail)];
  const all = [...before, ...Array<string>(8 - before.length - after.length).fill("0"), ...after];
  return Buffer.from(all.map((group) => group.padStart(4, "0")).join(""), "hex");
};

const der = (tag: number, content: Buffer): Buffer => {
  const { length } = content;
  if (length < 0x80) return Buffer.concat([Buffer.of(tag, length), content]);
  const size = Buffer.from(length.toString(16).padStart(length > 0xff ? 4 : 2, "0"), "hex");
  return Buffer.concat([Buffer.of(tag, 0x80 | size.length), size, content]);
};
const sequence = (...parts: readonly Buffer[]): Buffer => der(0x30, Buffer.concat(parts));
const set = (...parts: readonly Buffer[]): Buffer => der(0x31, Buffer.concat(parts));
const integer = (bytes: Buffer): Buffer => der(0x02, bytes);
const bits = (bytes: Buffer): Buffer => der(0x03, Buffer.concat([Buffer.of(0), bytes]));
/** UTCTime, two digits for the year (RFC 5280, section 4.1.2.5: until 2049). */
const time = (date: Date): Buffer =>
  der(0x17, Buffer.from(`${date.toISOString().replace(/[-:T]/g, "").slice(2, 14)}Z`, "ascii"));

const oid = ([first = 0, second = 0, ...rest]: readonly number[]): Buffer =>
  der(0x06, Buffer.from([first * 40 + second, ...rest.flatMap(base128)]));

const base128 = (value: number): readonly number[] =>
  value < 0x80 ? [value] : [...base128(Math.floor(value / 0x80)).map((byte) => byte | 0x80), value & 0x7f];
