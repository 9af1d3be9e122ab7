import { createHash } from "node:crypto";
import type { HttpBindings } from "@hono/node-server";
import { RESPONSE_ALREADY_SENT } from "@hono/node-server/utils/response";
import { type Context, Hono } from "hono";
import { bodyLimit } from "hono/body-limit";
import { getCookie, setCookie } from "hono/cookie";
import { HTTPException } from "hono/http-exception";
import { secureHeaders } from "hono/secure-headers";
import { pairing, ping, saying } from "../../run/phone/message.ts";
import { stripPicture } from "../../run/phone/picture.ts";
import { due, type Guest, type Guests, hearing, RateLimit, roundTrip, type SaidWhen } from "./guests.ts";
import { keepPhoto } from "./photos.ts";
import type { PhoneEvent, Serving } from "./thread.ts";

/** What the server needs besides: the page itself, the clock, whom to tell, and how a picture of a label is read. */
export interface PhoneWorld {
  readonly page: PageFile;
  readonly patience: ClientPatience;
  /** Milliseconds, never backwards. */
  readonly now: () => number;
  readonly tell: (event: PhoneEvent) => void;
  readonly read: (picture: Uint8Array) => Promise<string | undefined>;
}

/** How long a client may take for TLS, for its headers and for a whole request, and how often that is looked at. */
export interface ClientPatience {
  readonly handshake: number;
  readonly headers: number;
  readonly whole: number;
  readonly look: number;
}

/** The page as one text, and the hashes of the script and the style that stand in it. */
export interface PageFile {
  readonly html: string;
  readonly script: string;
  readonly style: string;
}

/** Who is let in, at which port that is, and who is handed the stream of pages. */
export interface PhoneDesk {
  readonly serving: Serving;
  readonly world: PhoneWorld;
  readonly guests: Guests;
  /** The TCP port that the server listens at, 1 to 65535. */
  readonly port: () => number;
  readonly stream: (guest: Guest, out: HttpBindings["outgoing"]) => void;
}

type Env = { Bindings: HttpBindings };
type PhoneRequest = Context<Env>;

const COOKIE = "limber";
const SMALL_BODY = 64 * 1024;
/** A photo as phones take them, with room. */
const PICTURE_BODY = 12 * 1024 * 1024;

/** All that can be asked of the server, and what is answered: whoever is not paired gets the bare page and nothing else. */
export const phoneRoutes = (desk: PhoneDesk): Hono<Env> => new PhoneAnswers(desk).routes();

class PhoneAnswers {
  private readonly desk: PhoneDesk;
  private readonly rates: Readonly<Record<"page" | "pair" | "say" | "picture", RateLimit>>;

  constructor(desk: PhoneDesk) {
    const { now } = desk.world;
    this.desk = desk;
    this.rates = {
      page: new RateLimit({ atOnce: 20, perSecond: 2 }, now),
      pair: new RateLimit({ atOnce: 5, perSecond: 0.2 }, now),
      say: new RateLimit({ atOnce: 100, perSecond: 30 }, now),
      picture: new RateLimit({ atOnce: 6, perSecond: 0.5 }, now),
    };
  }

  routes(): Hono<Env> {
    const routes = new Hono<Env>();
    const { page } = this.desk.world;
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
  private async isStranger(c: PhoneRequest): Promise<boolean> {
    const own = `${this.desk.serving.name}:${this.desk.port()}`;
    if (c.req.header("host") !== own) return true;
    const site = c.req.header("sec-fetch-site");
    if (c.req.method === "GET") return c.req.path !== "/" && site !== undefined && site !== "same-origin";
    return c.req.method !== "POST" || c.req.header("origin") !== `https://${own}`;
  }

  private async pair(c: PhoneRequest): Promise<Response> {
    if (!this.rates.pair.allows(addressOf(c))) return c.text("", 429);
    const said = pairing.safeParse(await jsonOf(c));
    if (!said.success) return c.text("", 400);
    const paired = this.desk.guests.pair(said.data.secret);
    if (typeof paired === "string") return c.json({ why: paired }, 403);
    const { guest, cookie } = paired;
    setCookie(c, COOKIE, cookie, { prefix: "host", secure: true, httpOnly: true, sameSite: "Strict", path: "/" });
    this.desk.world.tell({ kind: "asks", phone: guest.phone, number: guest.number, secret: this.desk.guests.renew() });
    return c.json({ number: guest.number });
  }

  /** Whose it is, if it is somebody's. */
  private guestOf(c: PhoneRequest): Guest | undefined {
    const guest = this.desk.guests.whose(getCookie(c, COOKIE, "host"));
    if (guest) guest.heardAt = this.desk.world.now();
    return guest;
  }

  private async events(c: PhoneRequest): Promise<Response> {
    const guest = this.guestOf(c);
    if (!guest) return c.text("", 401);
    this.desk.stream(guest, c.env.outgoing);
    return RESPONSE_ALREADY_SENT;
  }

  private async clock(c: PhoneRequest): Promise<Response> {
    const received = this.desk.world.now();
    const guest = this.guestOf(c);
    if (!guest) return c.text("", 401);
    if (!this.rates.say.allows(`${guest.phone}`)) return c.text("", 429);
    const said = ping.safeParse(await jsonOf(c));
    if (!said.success) return c.text("", 400);
    const now = this.desk.world.now();
    roundTrip(guest, said.data.era, said.data, received, now);
    for (const one of due(guest, now)) this.tell(guest, one);
    return c.json({ lastId: guest.lastId });
  }

  private tell({ phone }: Guest, when: SaidWhen): void {
    this.desk.world.tell({ kind: "said", phone, ...when });
  }

  private async say(c: PhoneRequest): Promise<Response> {
    const guest = this.guestOf(c);
    if (!guest) return c.text("", 401);
    if (guest.role !== "answers") return c.text("", 403);
    if (!this.rates.say.allows(`${guest.phone}`)) return c.text("", 429);
    const heard = saying.safeParse(await jsonOf(c));
    if (!heard.success) return c.text("", 400);
    const { era, said } = heard.data;
    for (const one of hearing(guest, era, said, this.desk.world.now())) this.tell(guest, one);
    return c.json({ lastId: guest.lastId });
  }

  private async photo(c: PhoneRequest): Promise<Response> {
    const guest = this.guestOf(c);
    if (!guest) return c.text("", 401);
    if (guest.role !== "answers") return c.text("", 403);
    if (!this.rates.picture.allows(`${guest.phone}`)) return c.text("", 429);
    const stripped = stripPicture(new Uint8Array(await c.req.arrayBuffer()));
    if (stripped.kind === "refused") return c.json({ why: stripped.why }, 415);
    const drawn = Number(c.req.query("drawn"));
    if (!Number.isSafeInteger(drawn)) return c.text("", 400);
    try {
      const file = keepPhoto(this.desk.serving.photos, stripped.bytes, stripped.type);
      this.desk.world.tell({ kind: "photo", phone: guest.phone, drawn, file });
    } catch {
      return c.json({ why: "the bench cannot write it to its disk" }, 507);
    }
    return c.json({ kept: true });
  }

  /** Reads a label where the phone itself cannot. The picture is not kept. */
  private async label(c: PhoneRequest): Promise<Response> {
    const guest = this.guestOf(c);
    if (!guest) return c.text("", 401);
    if (guest.role !== "answers") return c.text("", 403);
    if (!this.rates.picture.allows(`${guest.phone}`)) return c.text("", 429);
    const text = await this.desk.world.read(new Uint8Array(await c.req.arrayBuffer()));
    return text === undefined ? c.json({ why: "no label found in this picture" }, 422) : c.json({ text });
  }
}

const addressOf = (c: PhoneRequest): string => c.env.incoming.socket.remoteAddress ?? "";

/** Undefined where it is none. */
const jsonOf = async (c: PhoneRequest): Promise<unknown> => {
  if (!c.req.header("content-type")?.startsWith("application/json")) return undefined;
  try {
    return await c.req.json();
  } catch {
    return undefined;
  }
};

/** The hash of an inline script or style, as a policy names it (Content Security Policy Level 3). */
const hashOf = (text: string): string => `'sha256-${createHash("sha256").update(text).digest("base64")}'`;

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
