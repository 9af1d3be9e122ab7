import { createHash } from "node:crypto";
import type { ServerResponse } from "node:http";
import { createServer, type Server } from "node:https";
import { type AddressInfo, Socket } from "node:net";
import { getRequestListener, type HttpBindings } from "@hono/node-server";
import { RESPONSE_ALREADY_SENT } from "@hono/node-server/utils/response";
import { type Context, Hono } from "hono";
import { bodyLimit } from "hono/body-limit";
import { getCookie, setCookie } from "hono/cookie";
import { HTTPException } from "hono/http-exception";
import { secureHeaders } from "hono/secure-headers";
import { type PhonePage, pairing, ping, saying } from "../../run/phone/message.ts";
import { stripPicture } from "../../run/phone/picture.ts";
import type { PhoneEvent, PhoneOrder, Serving } from "./event.ts";
import { type Guest, Guests, roundTrip, saidAt } from "./guests.ts";
import { keepPhoto } from "./photos.ts";
import { RateLimit } from "./rate.ts";

/** What the server needs besides: the page itself, the clock, whom to tell, and how a picture of a label is read. */
export interface PhoneWorld {
  readonly page: PageFile;
  /** Milliseconds, never backwards. */
  readonly now: () => number;
  readonly tell: (event: PhoneEvent) => void;
  readonly read: (picture: Uint8Array) => Promise<string | undefined>;
}

/** The page as one text, and the hashes of the script and the style that stand in it. */
export interface PageFile {
  readonly html: string;
  readonly script: string;
  readonly style: string;
}

/** The hash of an inline script or style, as a policy names it (Content Security Policy Level 3). */
const hashOf = (text: string): string => `'sha256-${createHash("sha256").update(text).digest("base64")}'`;

const COOKIE = "limber";
const SMALL_BODY = 64 * 1024;
/** A photo as phones take them, with room. */
const PICTURE_BODY = 12 * 1024 * 1024;
/** Connections at once, of one address and of all: a browser opens six. */
const MOST_OF_ONE = 12;
const MOST_OF_ALL = 48;
/** A phone that does not take what it is told is let go. */
const MOST_WAITING = 512 * 1024;
const BEAT_MS = 500;
/** So long nothing was heard of the phone that answers, and it counts as lost: it asks for the time every 500 ms. */
const LOST_MS = 1700;

type Env = { Bindings: HttpBindings };
type Asked = Context<Env>;

/** Serves the page to paired phones over TLS, at one address, for one run. Whoever is not paired gets the bare page and nothing else. */
export class PhoneServer {
  private readonly serving: Serving;
  private readonly world: PhoneWorld;
  private readonly guests: Guests;
  private readonly server: Server;
  private readonly rates: Readonly<Record<"page" | "pair" | "say" | "picture", RateLimit>>;
  private readonly open = new Map<Guest, ServerResponse>();
  private readonly sockets = new Set<Socket>();
  private page: PhonePage | undefined;
  private lost = false;
  private timer: NodeJS.Timeout | undefined;

  constructor(serving: Serving, world: PhoneWorld) {
    const { now } = world;
    this.serving = serving;
    this.world = world;
    this.guests = new Guests(serving.most, now);
    this.rates = {
      page: new RateLimit({ atOnce: 20, perSecond: 2 }, now),
      pair: new RateLimit({ atOnce: 5, perSecond: 0.2 }, now),
      say: new RateLimit({ atOnce: 100, perSecond: 30 }, now),
      picture: new RateLimit({ atOnce: 6, perSecond: 0.5 }, now),
    };
    const { key, certificate } = serving.identity;
    const answered = getRequestListener(this.routes().fetch, { overrideGlobalObjects: false });
    this.server = createServer(
      {
        key,
        cert: certificate,
        minVersion: "TLSv1.2",
        handshakeTimeout: 5000,
        headersTimeout: 5000,
        requestTimeout: 20_000,
        keepAliveTimeout: 5000,
        connectionsCheckingInterval: 1000,
        maxHeaderSize: 8192,
      },
      (asked, answer) => void answered(asked, answer),
    );
    this.server.maxConnections = MOST_OF_ALL;
    this.server.on("connection", (socket) => {
      if (socket instanceof Socket) this.count(socket);
    });
    this.server.on("tlsClientError", (_error, socket) => socket.destroy());
    this.server.on("clientError", (_error, socket) => socket.destroy());
  }

  /** Begins to listen, and says at which port and with which secret. */
  start(): void {
    const { tell } = this.world;
    this.server.once("error", (error) => tell({ kind: "cannot-open", words: error.message }));
    this.server.listen(this.serving.port, this.serving.address, () => {
      tell({ kind: "open", port: this.port(), secret: this.guests.renew() });
    });
    this.timer = setInterval(() => this.beat(), BEAT_MS / 2);
  }

  heard(order: PhoneOrder): void {
    if (order.kind === "show") {
      this.page = order.page;
      for (const [guest, out] of this.open) if (guest.role !== "asks") send(out, "page", order.page);
    } else if (order.kind === "let-in") this.letIn(order.phone, order.answer);
    else this.close();
  }

  private letIn(phone: number, answer: "yes" | "no"): void {
    const guest = this.guests.letIn(phone, answer);
    const out = guest && this.open.get(guest);
    if (!out) return;
    send(out, "role", answer === "yes" ? guest.role : "refused");
    if (answer === "no") out.end();
    else if (this.page) send(out, "page", this.page);
  }

  private close(): void {
    clearInterval(this.timer);
    for (const out of this.open.values()) {
      send(out, "over", "");
      out.end();
    }
    this.server.close();
    for (const socket of this.sockets) socket.destroySoon();
  }

  private port(): number {
    return (this.server.address() as AddressInfo | null)?.port ?? this.serving.port;
  }

  /** Nobody keeps others out by opening many. */
  private count(socket: Socket): void {
    const of = (one: Socket) => one.remoteAddress ?? "";
    const others = [...this.sockets].filter((one) => of(one) === of(socket)).length;
    if (others >= MOST_OF_ONE) {
      socket.destroy();
      return;
    }
    this.sockets.add(socket);
    socket.on("close", () => this.sockets.delete(socket));
  }

  /** A sign of life to every phone, and a look whether the one that answers is still there. */
  private beat(): void {
    for (const [guest, out] of this.open) {
      if (out.writableLength > MOST_WAITING) {
        this.open.delete(guest);
        out.destroy();
      } else send(out, "beat", "");
    }
    const answering = this.guests.answering();
    if (!answering) return;
    const lost = this.world.now() - answering.heardAt > LOST_MS;
    if (lost !== this.lost) this.world.tell({ kind: lost ? "lost" : "back" });
    this.lost = lost;
  }

  private routes(): Hono<Env> {
    const routes = new Hono<Env>();
    const { page } = this.world;
    routes.use(async (c, next) => ((await this.isStranger(c)) ? c.text("", 403) : next()));
    routes.use(secureHeaders(headersFor(page)));
    routes.use(async (c, next) => {
      await next();
      c.header("Cache-Control", "no-store");
    });
    routes.get("/", (c) => (this.rates.page.allows(addressOf(c)) ? c.html(page.html) : c.text("", 429)));
    routes.post("/pair", bodyLimit({ maxSize: SMALL_BODY }), (c) => this.pair(c));
    routes.get("/events", (c) => this.events(c));
    routes.post("/clock", bodyLimit({ maxSize: SMALL_BODY }), (c) => this.clock(c));
    routes.post("/say", bodyLimit({ maxSize: SMALL_BODY }), (c) => this.say(c));
    routes.post("/photo", bodyLimit({ maxSize: PICTURE_BODY }), (c) => this.photo(c));
    routes.post("/label", bodyLimit({ maxSize: PICTURE_BODY }), (c) => this.label(c));
    routes.notFound((c) => c.text("", 404));
    routes.onError((error, c) => (error instanceof HTTPException ? error.getResponse() : c.text("", 400)));
    return routes;
  }

  /** Another name than its own (DNS rebinding), another page than its own, or a form: nobody of ours. */
  private async isStranger(c: Asked): Promise<boolean> {
    const own = `${this.serving.name}:${this.port()}`;
    if (c.req.header("host") !== own) return true;
    const site = c.req.header("sec-fetch-site");
    if (c.req.method === "GET") return c.req.path !== "/" && site !== undefined && site !== "same-origin";
    return c.req.method !== "POST" || c.req.header("origin") !== `https://${own}`;
  }

  private async pair(c: Asked): Promise<Response> {
    if (!this.rates.pair.allows(addressOf(c))) return c.text("", 429);
    const said = pairing.safeParse(await jsonOf(c));
    if (!said.success) return c.text("", 400);
    const paired = this.guests.pair(said.data.secret);
    if (typeof paired === "string") return c.json({ why: paired }, 403);
    const { guest, cookie } = paired;
    setCookie(c, COOKIE, cookie, { prefix: "host", secure: true, httpOnly: true, sameSite: "Strict", path: "/" });
    this.world.tell({ kind: "asks", phone: guest.phone, number: guest.number, secret: this.guests.renew() });
    return c.json({ number: guest.number });
  }

  /** Whose it is, if it is somebody's. */
  private guestOf(c: Asked): Guest | undefined {
    const guest = this.guests.whose(getCookie(c, COOKIE, "host"));
    if (guest) guest.heardAt = this.world.now();
    return guest;
  }

  private async events(c: Asked): Promise<Response> {
    const guest = this.guestOf(c);
    if (!guest) return c.text("", 401);
    const out = c.env.outgoing;
    this.open.get(guest)?.end();
    this.open.set(guest, out);
    out.writeHead(200, { "content-type": "text/event-stream", "cache-control": "no-store" });
    out.on("close", () => {
      if (this.open.get(guest) === out) this.open.delete(guest);
    });
    send(out, "role", guest.role === "asks" ? `asks ${guest.number}` : guest.role);
    if (guest.role !== "asks" && this.page) send(out, "page", this.page);
    return RESPONSE_ALREADY_SENT;
  }

  private async clock(c: Asked): Promise<Response> {
    const received = this.world.now();
    const guest = this.guestOf(c);
    if (!guest) return c.text("", 401);
    if (!this.rates.say.allows(`${guest.phone}`)) return c.text("", 429);
    const said = ping.safeParse(await jsonOf(c));
    if (!said.success) return c.text("", 400);
    roundTrip(guest, said.data.era, said.data, received, this.world.now());
    return c.json({ lastId: guest.lastId });
  }

  private async say(c: Asked): Promise<Response> {
    const guest = this.guestOf(c);
    if (!guest) return c.text("", 401);
    if (guest.role !== "answers") return c.text("", 403);
    if (!this.rates.say.allows(`${guest.phone}`)) return c.text("", 429);
    const heard = saying.safeParse(await jsonOf(c));
    if (!heard.success) return c.text("", 400);
    const { era, said } = heard.data;
    for (const one of said) {
      if (one.id <= guest.lastId) continue;
      guest.lastId = one.id;
      this.world.tell({ kind: "said", phone: guest.phone, said: one, ...saidAt(guest, era, one.at, this.world.now()) });
    }
    return c.json({ lastId: guest.lastId });
  }

  private async photo(c: Asked): Promise<Response> {
    const guest = this.guestOf(c);
    if (!guest) return c.text("", 401);
    if (guest.role !== "answers") return c.text("", 403);
    if (!this.rates.picture.allows(`${guest.phone}`)) return c.text("", 429);
    const stripped = stripPicture(new Uint8Array(await c.req.arrayBuffer()));
    if (stripped.kind === "refused") return c.json({ why: stripped.why }, 415);
    const drawn = Number(c.req.query("drawn"));
    if (!Number.isSafeInteger(drawn)) return c.text("", 400);
    try {
      const file = keepPhoto(this.serving.photos, stripped.bytes, stripped.type);
      this.world.tell({ kind: "photo", phone: guest.phone, drawn, file });
    } catch {
      return c.json({ why: "the bench cannot write it to its disk" }, 507);
    }
    return c.json({ kept: true });
  }

  /** Reads a label where the phone itself cannot. The picture is not kept. */
  private async label(c: Asked): Promise<Response> {
    const guest = this.guestOf(c);
    if (!guest) return c.text("", 401);
    if (guest.role !== "answers") return c.text("", 403);
    if (!this.rates.picture.allows(`${guest.phone}`)) return c.text("", 429);
    const text = await this.world.read(new Uint8Array(await c.req.arrayBuffer()));
    return text === undefined ? c.json({ why: "no label found in this picture" }, 422) : c.json({ text });
  }
}

const addressOf = (c: Asked): string => c.env.incoming.socket.remoteAddress ?? "";

/** Undefined where it is none. */
const jsonOf = async (c: Asked): Promise<unknown> => {
  if (!c.req.header("content-type")?.startsWith("application/json")) return undefined;
  try {
    return await c.req.json();
  } catch {
    return undefined;
  }
};

/** One message of a stream of events (HTML Living Standard, section 9.2). */
const send = (out: ServerResponse, event: string, data: unknown): void => {
  out.write(`event: ${event}\ndata: ${JSON.stringify(data)}\n\n`);
};

/** Nothing from elsewhere, no script but the page's own, nobody's frame, no permission but the camera. */
const headersFor = ({ script, style }: PageFile): Parameters<typeof secureHeaders>[0] => ({
  contentSecurityPolicy: {
    defaultSrc: ["'none'"],
    scriptSrc: [hashOf(script)],
    styleSrc: [hashOf(style)],
    connectSrc: ["'self'"],
    imgSrc: ["'self'", "blob:"],
    mediaSrc: ["blob:"],
    baseUri: ["'none'"],
    formAction: ["'none'"],
    frameAncestors: ["'none'"],
    requireTrustedTypesFor: ["'script'"],
  },
  xFrameOptions: "DENY",
  referrerPolicy: "no-referrer",
  crossOriginResourcePolicy: "same-origin",
  crossOriginOpenerPolicy: "same-origin",
  permissionsPolicy: { camera: ["self"], geolocation: [], microphone: [], payment: [], usb: [] },
});
