import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import type { IncomingMessage } from "node:http";
import { Agent, request } from "node:https";
import { connect, type Socket } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { checkServerIdentity, connect as secured, type TLSSocket } from "node:tls";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { ownIdentity } from "../../../src/io/phone/certificate.ts";
import type { ClientPatience } from "../../../src/io/phone/routes.ts";
import { PATIENCE, PhoneServer } from "../../../src/io/phone/server.ts";
import type { PhoneEvent } from "../../../src/io/phone/thread.ts";
import type { PhonePage } from "../../../src/run/phone/message.ts";
import { jpegWith } from "./pictures.ts";

const identity = ownIdentity("", "127.0.0.1", new Date());
const PAGE = { html: "<!doctype html><script>1</script>", script: "1", style: "" };

let folder: string;
let server: PhoneServer;
let events: PhoneEvent[];
let now: number;
let port: number;
let secret: string;

beforeEach(() => serve(PATIENCE));

const serve = async (patience: ClientPatience): Promise<void> => {
  folder = mkdtempSync(join(tmpdir(), "limber-phone-"));
  events = [];
  now = 1_000_000;
  let opened = () => {};
  const open = new Promise<void>((resolve) => {
    opened = resolve;
  });
  server = new PhoneServer(
    { identity, address: "127.0.0.1", name: "127.0.0.1", port: 0, most: 2, photos: join(folder, "photos") },
    {
      page: PAGE,
      patience,
      now: () => now,
      tell: (event) => {
        events.push(event);
        if (event.kind === "open") {
          ({ port, secret } = event);
          opened();
        }
      },
      read: async () => "MH-0231",
    },
  );
  server.start();
  await open;
};

afterEach(() => {
  server.heard({ kind: "close" });
  rmSync(folder, { recursive: true });
});

interface Answer {
  readonly status: number;
  readonly headers: Record<string, string | string[] | undefined>;
  readonly body: string;
}

interface Asked {
  readonly method?: "GET" | "POST" | "PUT" | "OPTIONS";
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string | Uint8Array;
  readonly cookie?: string;
  /** Over one connection, as a browser asks; else each over its own. */
  readonly agent?: Agent | false;
}

/** As the phone's own page asks, unless something is said. The certificate is verified: no test trusts blindly. */
const ask = (
  path: string,
  { method = "POST", headers = {}, body, cookie, agent = false }: Asked = {},
): Promise<Answer> =>
  new Promise((resolve, reject) => {
    const own = method === "GET" ? {} : { origin: `https://127.0.0.1:${port}`, "content-type": "application/json" };
    const asked = request(
      {
        host: "127.0.0.1",
        port,
        path,
        method,
        ca: identity.certificate,
        agent,
        checkServerIdentity: (_host, certificate) => checkServerIdentity("127.0.0.1", certificate),
        headers: { ...own, ...(cookie === undefined ? {} : { cookie }), ...headers },
      },
      (answer) => {
        let text = "";
        answer.setEncoding("utf8");
        answer.on("data", (part: string) => {
          text += part;
        });
        answer.on("end", () => resolve({ status: answer.statusCode ?? 0, headers: answer.headers, body: text }));
      },
    );
    asked.on("error", reject);
    asked.end(body);
  });

const said = (...ones: readonly object[]) => JSON.stringify({ era: 0, said: ones });
const PRESS = { kind: "press", id: 1, at: 5, drawn: 1 };

/** Pairs a phone; `role`: what somebody at the terminal makes of it. */
const paired = async (answer: "yes" | "no" | "nothing yet" = "yes"): Promise<string> => {
  const { headers } = await ask("/pair", { body: JSON.stringify({ secret }) });
  const asks = events.findLast((event) => event.kind === "asks");
  if (asks?.kind !== "asks") throw new Error("nobody asks");
  secret = asks.secret;
  if (answer !== "nothing yet") server.heard({ kind: "let-in", phone: asks.phone, answer });
  return String(headers["set-cookie"]).split(";")[0] ?? "";
};

/** What a stream says until its first sign of life. */
const streamed = (cookie: string): Promise<string> =>
  new Promise((resolve, reject) => {
    const asked = request(
      { host: "127.0.0.1", port, path: "/events", ca: identity.certificate, agent: false, headers: { cookie } },
      (answer) => {
        let text = "";
        answer.setEncoding("utf8");
        answer.on("data", (part: string) => {
          text += part;
          if (!text.includes("event: beat")) return;
          asked.destroy();
          resolve(text.slice(0, text.indexOf("event: beat")));
        });
      },
    );
    asked.on("error", reject);
    asked.end();
  });

const told = () => events.filter(({ kind }) => kind === "said");

describe("who is let in", () => {
  test("a phone that shows the secret has a cookie that no script reads and no other site sends, and waits for a yes", async () => {
    const { status, headers, body } = await ask("/pair", { body: JSON.stringify({ secret }) });
    expect(status).toBe(200);
    const cookie = String(headers["set-cookie"]);
    expect(cookie).toMatch(/^__Host-limber=[\w-]{43}; Path=\/; HttpOnly; Secure; SameSite=Strict$/);
    const asks = events.findLast((event) => event.kind === "asks");
    expect(asks).toMatchObject({ kind: "asks", number: JSON.parse(body).number });
    expect((await ask("/say", { body: said(PRESS), cookie: cookie.split(";")[0]! })).status).toBe(403);
    expect(told()).toEqual([]);
  });

  test("let in, what it says is told, once however often it is sent", async () => {
    const cookie = await paired();
    await ask("/clock", { body: '{"era":0,"sent":1}', cookie });
    await ask("/clock", { body: '{"era":0,"sent":2,"before":{"sent":1,"back":1}}', cookie });
    expect((await ask("/say", { body: said(PRESS), cookie })).status).toBe(200);
    expect((await ask("/say", { body: said(PRESS, { ...PRESS, id: 2 }), cookie })).body).toBe('{"lastId":2}');
    expect(told()).toMatchObject([{ said: { id: 1 } }, { said: { id: 2 } }]);
  });

  test("turned away, its cookie is worth nothing", async () => {
    const cookie = await paired("no");
    expect((await ask("/say", { body: said(PRESS), cookie })).status).toBe(401);
  });

  test("the second phone only watches, and there is no third", async () => {
    const first = await paired();
    const second = await paired();
    expect((await ask("/say", { body: said(PRESS), cookie: second })).status).toBe(403);
    expect((await ask("/photo?drawn=1", { body: jpegWith(), cookie: second })).status).toBe(403);
    expect((await ask("/say", { body: said(PRESS), cookie: first })).status).toBe(200);
    expect((await ask("/pair", { body: JSON.stringify({ secret }) })).body).toBe('{"why":"full"}');
  });

  test("a secret is worth nothing a second time", async () => {
    const used = secret;
    await paired();
    expect((await ask("/pair", { body: JSON.stringify({ secret: used }) })).status).toBe(403);
  });

  test("nor after ten minutes", async () => {
    now += 600_001;
    expect((await ask("/pair", { body: JSON.stringify({ secret }) })).status).toBe(403);
  });

  test("who guesses is soon not listened to, and then the right secret waits a minute too", async () => {
    const statuses: number[] = [];
    for (let n = 0; n < 8; n++)
      statuses.push((await ask("/pair", { body: JSON.stringify({ secret: `guess-${n}` }) })).status);
    expect(statuses).toEqual([403, 403, 403, 403, 403, 429, 429, 429]);
    expect((await ask("/pair", { body: JSON.stringify({ secret }) })).status).toBe(429);
    now += 61_000;
    expect((await ask("/pair", { body: JSON.stringify({ secret }) })).status).toBe(200);
  });
});

describe("what is refused", () => {
  test.each([
    { because: "no cookie", path: "/say", asked: { body: said(PRESS) }, status: 401 },
    {
      because: "another's cookie",
      path: "/say",
      asked: { body: said(PRESS), cookie: "__Host-limber=AAAA" },
      status: 401,
    },
    { because: "no cookie, for the stream of pages", path: "/events", asked: { method: "GET" }, status: 401 },
    { because: "no cookie, for the clock", path: "/clock", asked: { body: '{"era":0,"sent":1}' }, status: 401 },
    { because: "no cookie, for a photo", path: "/photo?drawn=1", asked: { body: "x" }, status: 401 },
    { because: "no cookie, for a label", path: "/label", asked: { body: "x" }, status: 401 },
    {
      because: "a name of somebody else's that leads here (DNS rebinding)",
      path: "/",
      asked: { method: "GET", headers: { host: "evil.example" } },
      status: 403,
    },
    {
      because: "the address without its port",
      path: "/",
      asked: { method: "GET", headers: { host: "127.0.0.1" } },
      status: 403,
    },
    {
      because: "another site's page",
      path: "/pair",
      asked: { headers: { origin: "https://evil.example" }, body: "{}" },
      status: 403,
    },
    {
      because: "a page without an origin",
      path: "/pair",
      asked: { headers: { origin: "null" }, body: "{}" },
      status: 403,
    },
    {
      because: "the same host in the clear",
      path: "/pair",
      asked: { headers: { origin: "http://127.0.0.1" }, body: "{}" },
      status: 403,
    },
    {
      because: "another site's frame or picture",
      path: "/events",
      asked: { method: "GET", headers: { "sec-fetch-site": "cross-site" } },
      status: 403,
    },
    { because: "another method", path: "/say", asked: { method: "PUT", body: "{}" }, status: 403 },
    { because: "a question beforehand of another site", path: "/say", asked: { method: "OPTIONS" }, status: 403 },
    { because: "a way up the folders", path: "/../../../etc/passwd", asked: { method: "GET" }, status: 404 },
    {
      because: "the same, written otherwise",
      path: "/%2e%2e/%2e%2e/etc/passwd",
      asked: { method: "GET" },
      status: 404,
    },
    { because: "a photo by its name", path: `/photos/${"a".repeat(64)}.jpg`, asked: { method: "GET" }, status: 404 },
  ] as const)("$because: $status", async ({ path, asked, status }) => {
    expect((await ask(path, asked)).status).toBe(status);
    expect(told()).toEqual([]);
  });

  test.each([
    { because: "no JSON", body: "<script>" },
    { because: "a form", body: "era=0", headers: { "content-type": "application/x-www-form-urlencoded" } },
    { because: "a kind that is none", body: said({ ...PRESS, kind: "open-the-door" }) },
    { because: "more than was agreed", body: said({ ...PRESS, and: "more" }) },
    { because: "a time that is none", body: said({ ...PRESS, at: "now" }) },
    { because: "too many at once", body: said(...Array.from({ length: 101 }, (_, n) => ({ ...PRESS, id: n + 1 }))) },
    {
      because: "a text longer than any field",
      body: said({ kind: "fill", id: 1, at: 1, drawn: 1, what: "note", text: "x".repeat(201) }),
    },
  ])("of a paired phone, $because: 400, and nothing of it is told", async ({ body, headers = {} }) => {
    const cookie = await paired();
    expect((await ask("/say", { body, cookie, headers })).status).toBe(400);
    expect(told()).toEqual([]);
  });

  test("more than a body may hold: 413", async () => {
    const cookie = await paired();
    expect((await ask("/say", { body: "x".repeat(70_000), cookie })).status).toBe(413);
    const large = { "content-length": String(13 * 1024 * 1024) };
    const status = await ask("/photo?drawn=1", { cookie, headers: large, body: "x" }).then(
      (answer) => answer.status,
      () => 413,
    );
    expect(status).toBe(413);
  });

  test("more often than anybody touches a screen: 429", async () => {
    const cookie = await paired();
    // One after the other over one connection: many are another matter.
    const agent = new Agent({ keepAlive: true, maxSockets: 1 });
    const statuses: number[] = [];
    for (let n = 0; n < 110; n++) statuses.push((await ask("/say", { body: said(), cookie, agent })).status);
    expect(statuses.filter((status) => status === 429)).toHaveLength(10);
    now += 1000;
    expect((await ask("/say", { body: said(PRESS), cookie, agent })).status).toBe(200);
    agent.destroy();
  });
});

describe("what everybody may have", () => {
  test("the bare page, which may do nothing but what is written in it", async () => {
    const { status, headers, body } = await ask("/", { method: "GET" });
    expect([status, body]).toEqual([200, PAGE.html]);
    // SHA-256 of "1" and of nothing, by `printf 1 | openssl sha256 -binary | base64`.
    expect(headers["content-security-policy"]).toBe(
      "default-src 'none'; script-src 'sha256-a4ayc/80/OGda4BO/1o/V0etpOqiLx1JwB5S3beHW0s='; style-src 'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU='; connect-src 'self'; img-src 'self' blob:; media-src blob:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'; require-trusted-types-for 'script'",
    );
    expect(headers).toMatchObject({
      "x-content-type-options": "nosniff",
      "x-frame-options": "DENY",
      "referrer-policy": "no-referrer",
      "cross-origin-opener-policy": "same-origin",
      "cache-control": "no-store",
    });
  });
});

describe("the stream of pages", () => {
  const page = { drawn: 7, headline: "Pan" } as PhonePage;
  test("who waits to be let in sees the number alone", async () => {
    const cookie = await paired("nothing yet");
    server.heard({ kind: "show", page });
    const asks = events.findLast((event) => event.kind === "asks");
    expect(await streamed(cookie)).toBe(`event: role\ndata: "asks ${asks?.kind === "asks" ? asks.number : ""}"\n\n`);
  });

  test("who is let in sees the page as it stands, also when it comes back", async () => {
    const cookie = await paired();
    server.heard({ kind: "show", page });
    const whole = `event: role\ndata: "answers"\n\nevent: page\ndata: {"drawn":7,"headline":"Pan"}\n\n`;
    expect(await streamed(cookie)).toBe(whole);
    expect(await streamed(cookie)).toBe(whole);
  });
});

describe("when it was pressed", () => {
  test("a press is put back by what the round trips say, and told with how far off that may be", async () => {
    const cookie = await paired();
    // The phone's clock shows 100 when ours shows 1,000,000; there and back takes 40 ms in all, and the server itself none.
    for (const [sent, before] of [
      [80, undefined],
      [1080, { sent: 80, back: 120 }],
    ] as const) {
      now = 1_000_000 + sent - 80;
      await ask("/clock", { body: JSON.stringify({ era: 0, sent, before }), cookie });
    }
    now = 1_002_000;
    await ask("/say", { body: said({ ...PRESS, at: 1500 }), cookie });
    expect(told()).toMatchObject([{ at: 1_001_400, give: expect.closeTo(20 + 1 + 0.14, 1) }]);
  });

  test("before any round trip it waits for one, and is then put where it was made", async () => {
    const cookie = await paired();
    now = 1_002_000;
    await ask("/say", { body: said({ ...PRESS, at: 1500 }), cookie });
    expect(told()).toEqual([]);
    await ask("/clock", { body: '{"era":0,"sent":2100}', cookie });
    now = 1_002_500;
    await ask("/clock", { body: '{"era":0,"sent":2600,"before":{"sent":2100,"back":2100}}', cookie });
    expect(told()).toMatchObject([{ at: 1_001_400, give: expect.closeTo(1.06, 1) }]);
  });

  test("where no round trip comes it counts from when it arrived, give or take as long as it waited", async () => {
    const cookie = await paired();
    await ask("/say", { body: said({ ...PRESS, at: 1500 }), cookie });
    now += 3001;
    await vi.waitFor(() => expect(told()).toMatchObject([{ at: 1_000_000, give: 3000 }]));
  });

  test("stop waits for no clock, and overtakes what does", async () => {
    const cookie = await paired();
    await ask("/say", { body: said({ ...PRESS, at: 1500 }, { ...PRESS, kind: "stop", id: 2 }), cookie });
    expect(told()).toMatchObject([{ said: { kind: "stop" }, at: 1_000_000 }]);
  });

  test("a phone that slept has another clock from then on", async () => {
    const cookie = await paired();
    await ask("/clock", { body: JSON.stringify({ era: 0, sent: 80 }), cookie });
    await ask("/clock", { body: JSON.stringify({ era: 0, sent: 90, before: { sent: 80, back: 82 } }), cookie });
    await ask("/say", { body: JSON.stringify({ era: 1, said: [{ ...PRESS, at: 85 }] }), cookie });
    expect(told()).toEqual([]);
    await ask("/clock", { body: JSON.stringify({ era: 1, sent: 10 }), cookie });
    now += 90;
    await ask("/clock", { body: JSON.stringify({ era: 1, sent: 100, before: { sent: 10, back: 14 } }), cookie });
    expect(told()).toMatchObject([{ at: 1_000_000 + 73, give: expect.closeTo(2 + 1 + 0.007, 2) }]);
  });
});

describe("pictures", () => {
  test("a photo is kept without anything but the picture, named after its bytes, and told", async () => {
    const cookie = await paired();
    const { status } = await ask("/photo?drawn=3", { body: jpegWith("GPS 52.5 13.4"), cookie });
    expect(status).toBe(200);
    const [file] = readdirSync(join(folder, "photos"));
    expect(file).toMatch(/^[0-9a-f]{64}\.jpg$/);
    expect(events.at(-1)).toEqual({ kind: "photo", phone: 1, drawn: 3, file });
  });

  test("what is no picture is not kept", async () => {
    const cookie = await paired();
    const { status, body } = await ask("/photo?drawn=3", { body: "<svg onload=alert(1)>", cookie });
    expect([status, body]).toEqual([415, '{"why":"only JPEG and PNG pictures are taken"}']);
  });

  test("a label is read for a phone that cannot, and its picture is not kept", async () => {
    const cookie = await paired();
    expect((await ask("/label", { body: jpegWith(), cookie })).body).toBe('{"text":"MH-0231"}');
    expect(readdirSync(folder)).toEqual([]);
  });
});

test("of one address only a few connections stand open at once", async () => {
  const sockets = Array.from({ length: 200 }, () => connect(port, "127.0.0.1"));
  const closed = Promise.all(
    sockets.map(
      (socket) => new Promise<"closed">((resolve) => socket.on("close", () => resolve("closed")).on("error", () => {})),
    ),
  );
  await new Promise<void>((resolve) => {
    let open = 200;
    for (const socket of sockets)
      socket.on("close", () => {
        open -= 1;
        if (open === 12) resolve();
      });
  });
  for (const socket of sockets) socket.destroy();
  await closed;
  expect((await ask("/", { method: "GET" })).status).toBe(200);
});

test("who opens one connection after the other is let go before the handshake, and waits", async () => {
  const opened = (): Promise<"secured" | "let go"> =>
    new Promise((resolve) => {
      const socket = secured({ host: "127.0.0.1", port, ca: identity.certificate }, () => {
        resolve("secured");
        socket.destroy();
      });
      socket.on("error", () => resolve("let go")).on("close", () => resolve("let go"));
    });
  const all: string[] = [];
  for (let n = 0; n < 50; n++) all.push(await opened());
  expect(all.filter((one) => one === "secured")).toHaveLength(40);
  now += 1000;
  expect(await opened()).toBe("secured");
});

test("a phone that is not heard of counts as lost, and as back with the next word", async () => {
  const cookie = await paired();
  const until = (kind: PhoneEvent["kind"]) =>
    new Promise<void>((resolve) => {
      const look = setInterval(() => {
        if (events.at(-1)?.kind !== kind) return;
        clearInterval(look);
        resolve();
      }, 10);
    });
  now += 1701;
  await until("lost");
  await ask("/clock", { body: '{"era":0,"sent":1}', cookie });
  await until("back");
});

describe("a client that takes its time", () => {
  const closed = (socket: TLSSocket | Socket) =>
    new Promise<void>((resolve) => socket.on("error", () => {}).on("close", () => resolve()));
  const inside = (said: string) => {
    const socket = secured({ host: "127.0.0.1", port, ca: identity.certificate });
    socket.write(said.replaceAll("\n", "\r\n"));
    return socket;
  };

  test("is let go when it never begins with TLS, never ends its headers, or never sends the body that it announced", async () => {
    server.heard({ kind: "close" });
    rmSync(folder, { recursive: true });
    // The same as ever, only sooner: the test waits for the end of it.
    await serve({ handshake: PATIENCE.handshake / 5, headers: 1000, whole: 2000, look: 50 });
    const own = `host: 127.0.0.1:${port}\norigin: https://127.0.0.1:${port}`;
    const slow = [
      connect(port, "127.0.0.1"),
      inside(`GET / HTTP/1.1\n${own}\nx-slow: `),
      inside(`POST /pair HTTP/1.1\n${own}\ncontent-type: application/json\ncontent-length: 50\n\n{`),
    ];
    for (const socket of slow) socket.resume();
    await Promise.all(slow.map(closed));
    expect(told()).toEqual([]);
  });

  test("is let go when it does not read what it is told: nothing piles up for it", async () => {
    const cookie = await paired();
    const watching = await paired();
    const deaf = await new Promise<IncomingMessage>((resolve) =>
      request(
        { host: "127.0.0.1", port, path: "/events", ca: identity.certificate, agent: false, headers: { cookie } },
        resolve,
      ).end(),
    );
    deaf.pause();
    const [pages, letters] = [100, 200_000];
    const large = { drawn: 7, headline: "x".repeat(letters) } as PhonePage;
    for (let n = 0; n < pages; n++) server.heard({ kind: "show", page: large });
    // Its turn comes with the next sign of life to everybody; then it reads what still lay on the way, and that is the end.
    await streamed(watching);
    let read = 0;
    await new Promise<void>((resolve) => {
      deaf.on("error", () => {});
      deaf.on("close", resolve);
      deaf.on("data", (part: Buffer) => {
        read += part.length;
      });
      deaf.resume();
    });
    expect(read).toBeLessThan(pages * letters);
  });
});
