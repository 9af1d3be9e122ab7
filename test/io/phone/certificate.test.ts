import { createPrivateKey, X509Certificate } from "node:crypto";
import { expect, test } from "vitest";
import { identityIn, identityText, ownIdentity } from "../../../src/io/phone/certificate.ts";

const NOW = new Date("2026-12-01T08:00:00Z");

// Read by OpenSSL, through node:crypto: it shares no code with what was written.
test("the bench makes its own certificate: for its address, for a server, signed with its own key", () => {
  const { certificate, key } = ownIdentity("", "192.168.4.20", NOW);
  const read = new X509Certificate(certificate);
  expect(read.verify(read.publicKey)).toBe(true);
  expect(read.checkPrivateKey(createPrivateKey(key))).toBe(true);
  expect(read.checkIP("192.168.4.20")).toBe("192.168.4.20");
  expect(read.checkIP("192.168.4.21")).toBeUndefined();
  expect(read.ca).toBe(false);
  expect(read.keyUsage).toEqual(["1.3.6.1.5.5.7.3.1"]);
  expect(read.subject).toBe("CN=Limber bench");
  expect(new Date(read.validFrom) < NOW && new Date(read.validTo) > new Date("2028-12-01")).toBe(true);
});

test("as it was kept it is the same the next time", () => {
  const first = ownIdentity("", "10.0.0.7", NOW);
  expect(ownIdentity(identityText(first), "10.0.0.7", NOW)).toEqual(first);
});

test.each([
  { because: "another address on another network", address: "fe80::1c2d", now: NOW },
  { because: "it runs out", address: "10.0.0.7", now: new Date("2029-06-01") },
])("it is made anew when $because, with the same key, for all addresses so far", ({ address, now }) => {
  const before = ownIdentity("", "10.0.0.7", NOW);
  const after = ownIdentity(identityText(before), address, now);
  expect(after.fingerprint).not.toBe(before.fingerprint);
  expect(after.key).toBe(before.key);
  const read = new X509Certificate(after.certificate);
  expect([read.checkIP("10.0.0.7"), read.checkIP(address)]).toEqual(["10.0.0.7", address]);
});

test("the shop's own is taken with its whole chain", () => {
  const own = ownIdentity("", "10.1.1.1", NOW);
  const above = ownIdentity("", "10.1.1.2", NOW);
  const read = identityIn(`${own.certificate}\n${above.certificate}\n${own.key}`);
  expect(read?.certificate).toBe(`${own.certificate}\n${above.certificate}`);
  expect(read?.fingerprint).toBe(own.fingerprint);
});

const own = ownIdentity("", "10.1.1.1", NOW);
test.each([
  { because: "nothing in it", text: "" },
  { because: "no key", text: own.certificate },
  { because: "no certificate", text: own.key },
  { because: "another's key", text: `${ownIdentity("", "10.1.1.1", NOW).key}\n${own.certificate}` },
  { because: "a certificate cut short", text: identityText(own).replace(/(BEGIN CERTIFICATE-----\n).{64}\n/, "$1") },
])("a file is refused with $because", ({ text }) => {
  expect(identityIn(text)).toBeUndefined();
});
