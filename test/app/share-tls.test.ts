import { spawn } from "node:child_process";
import { once } from "node:events";
import { chmodSync } from "node:fs";
import { connect, createServer, type Server, type Socket } from "node:net";
import { join } from "node:path";
import { TLSSocket } from "node:tls";
import { afterAll, beforeAll, describe, expect, onTestFinished, test } from "vitest";
import { ownIdentity } from "../../src/io/phone/certificate.ts";
import { program } from "../kit/built.ts";
import { workplace } from "../kit/limber.ts";
import { noPostgres, type OwnPostgres, ownPostgres } from "../kit/postgres.ts";

/** An address of this computer that is not called its own: a server there counts as one on the network. */
const ELSEWHERE = "127.0.0.2";
const NOW = new Date();
const RIGHT = ownIdentity("", ELSEWHERE, NOW);
const STRANGER = ownIdentity("", ELSEWHERE, NOW);
const WRONG_NAME = ownIdentity("", "127.0.0.3", NOW);

/** A server as PostgreSQL's protocol begins (its manual, 55.2.10, SSL session encryption): asked for TLS it says yes or no. */
const behindTls = async (
  identity: typeof RIGHT | undefined,
  to: (plain: Socket | TLSSocket) => void,
): Promise<Server> => {
  const server = createServer((socket) => {
    socket.on("error", () => {});
    socket.once("data", (request: Buffer) => {
      if (request.readInt32BE(4) !== 80_877_103) throw new Error("it did not ask for TLS");
      socket.write(identity ? "S" : "N");
      if (!identity) return;
      const secure = new TLSSocket(socket, { isServer: true, key: identity.key, cert: identity.certificate });
      secure.on("error", () => {});
      to(secure);
    });
  });
  server.listen(0, ELSEWHERE);
  await once(server, "listening");
  onTestFinished(() => void server.close());
  return server;
};

const portOf = (server: Server): number => {
  const address = server.address();
  if (address === null || typeof address === "string") throw new Error("it does not listen");
  return address.port;
};

/** `limber share join` as a person types it; the authorities that are trusted beside the system's stand in a file. */
const joined = async (port: number, trusted: typeof RIGHT | undefined) => {
  const place = workplace();
  onTestFinished(() => place.remove());
  const address = place.file("address", `postgres://limber@${ELSEWHERE}:${port}/postgres`);
  chmodSync(address, 0o600);
  const authority = trusted ? { NODE_EXTRA_CA_CERTS: place.file("authority.pem", trusted.certificate) } : {};
  const args = ["share", "join", "--url-file", address, "--name", "bench", "--yes", "--journal", place.journal];
  const child = spawn(process.execPath, [program(), ...args], {
    env: { PATH: process.env["PATH"], HOME: place.folder, ...authority },
    stdio: ["ignore", "pipe", "pipe"],
  });
  let said = "";
  for (const stream of [child.stdout, child.stderr])
    stream.setEncoding("utf8").on("data", (text: string) => {
      said += text;
    });
  const [code] = await once(child, "close");
  return { code, said };
};

describe("a server elsewhere is joined over TLS, verified without being asked to", () => {
  test.each([
    { trusted: undefined, shows: RIGHT, because: "nobody vouches for its certificate" },
    { trusted: STRANGER, shows: RIGHT, because: "another authority is trusted than the one that signed it" },
    { trusted: WRONG_NAME, shows: WRONG_NAME, because: "its certificate is another computer's" },
  ])("refused, as $because: nothing is said to it, no user and no event", async ({ trusted, shows }) => {
    const heard: Buffer[] = [];
    const server = await behindTls(shows, (plain) => plain.on("data", (bytes: Buffer) => heard.push(bytes)));
    const { code, said } = await joined(portOf(server), trusted);
    expect(said).toContain("The server's certificate cannot be verified");
    expect(code).toBe(3);
    expect(heard).toEqual([]);
  });

  test("refused, as it speaks no TLS", async () => {
    const server = await behindTls(undefined, () => {});
    const { code, said } = await joined(portOf(server), RIGHT);
    expect(said).toContain("The server does not speak TLS");
    expect(code).toBe(3);
  });
});

const missing = noPostgres();
if (missing) console.warn(`Sharing over TLS is NOT tested with a real PostgreSQL: ${missing}.`);

describe.skipIf(missing)("over TLS", () => {
  let database: OwnPostgres;
  beforeAll(async () => {
    database = await ownPostgres();
  }, 120_000);
  afterAll(() => database?.remove());

  test("a server whose certificate is trusted and its own is joined", async () => {
    const server = await behindTls(RIGHT, (plain) => {
      const own = connect(join(database.folder, ".s.PGSQL.5432"));
      own.on("error", () => plain.destroy());
      plain.pipe(own).pipe(plain);
    });
    const { code, said } = await joined(portOf(server), RIGHT);
    expect(said).toMatch(/Joined as bench [0-9a-f]{12}/);
    expect(code).toBe(0);
  });
});
