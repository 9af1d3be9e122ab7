import type { ServerResponse } from "node:http";
import { createServer, type Server } from "node:https";
import { type AddressInfo, Socket } from "node:net";
import { getRequestListener } from "@hono/node-server";
import type { PhonePage } from "../../run/phone/message.ts";
import { due, type Guest, Guests, RateLimit } from "./guests.ts";
import { type ClientPatience, type PhoneWorld, phoneRoutes } from "./routes.ts";
import type { PhoneOrder, Serving } from "./thread.ts";

/** Connections at once, of one address and of all: a browser opens six. */
const MOST_OF_ONE = 12;
const MOST_OF_ALL = 48;
/** New ones of one address: each costs a handshake, and so time of the processor that sends frames. A phone that loses its connection opens two a second. */
const NEW_ONES = { atOnce: 40, perSecond: 4 };
/** A phone that does not take what it is told is let go. */
const MOST_WAITING = 512 * 1024;
const BEAT_MS = 500;
/** How long nothing may be heard of the phone that answers before it counts as lost: it asks for the time every 500 ms. */
const LOST_MS = 1700;

/** How long a slow client may take, in milliseconds: a phone at the edge of the network sends a photo in less. */
export const PATIENCE: ClientPatience = { handshake: 5000, headers: 5000, whole: 20_000, look: 1000 };

/** Serves the page to paired phones over TLS, at one address, for one run. Whoever is not paired gets the bare page and nothing else. */
export class PhoneServer {
  private readonly serving: Serving;
  private readonly world: PhoneWorld;
  private readonly guests: Guests;
  private readonly server: Server;
  private readonly open = new Map<Guest, ServerResponse>();
  private readonly sockets = new Set<Socket>();
  private readonly newOnes: RateLimit;
  private page: PhonePage | undefined;
  private lost = false;
  private timer: NodeJS.Timeout | undefined;

  constructor(serving: Serving, world: PhoneWorld) {
    this.serving = serving;
    this.world = world;
    this.guests = new Guests(serving.most, world.now);
    this.newOnes = new RateLimit(NEW_ONES, world.now);
    const { key, certificate } = serving.identity;
    const { patience } = world;
    const answered = getRequestListener(
      phoneRoutes({
        serving,
        world,
        guests: this.guests,
        port: () => this.port(),
        stream: (guest, out) => this.stream(guest, out),
      }).fetch,
      { overrideGlobalObjects: false },
    );
    this.server = createServer(
      {
        key,
        cert: certificate,
        minVersion: "TLSv1.2",
        handshakeTimeout: patience.handshake,
        headersTimeout: patience.headers,
        requestTimeout: patience.whole,
        keepAliveTimeout: patience.headers,
        connectionsCheckingInterval: patience.look,
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

  /** Does what the program orders: shows a page to every phone, lets one in, or closes. */
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

  /** Nobody keeps others out by opening many, and nobody keeps the processor busy by opening them anew: they end before their handshake. */
  private count(socket: Socket): void {
    const of = (one: Socket) => one.remoteAddress ?? "";
    const others = [...this.sockets].filter((one) => of(one) === of(socket)).length;
    if (others >= MOST_OF_ONE || !this.newOnes.allows(of(socket))) {
      socket.destroy();
      return;
    }
    this.sockets.add(socket);
    socket.on("close", () => this.sockets.delete(socket));
  }

  /** A sign of life to every phone, and a look whether the one that answers is still there; what waited too long is told. */
  private beat(): void {
    for (const [guest, out] of this.open) {
      if (out.writableLength > MOST_WAITING) {
        this.open.delete(guest);
        out.destroy();
      } else send(out, "beat", "");
    }
    const answering = this.guests.answering();
    if (!answering) return;
    const now = this.world.now();
    for (const when of due(answering, now)) this.world.tell({ kind: "said", phone: answering.phone, ...when });
    const lost = now - answering.heardAt > LOST_MS;
    if (lost !== this.lost) this.world.tell({ kind: lost ? "lost" : "back" });
    this.lost = lost;
  }

  /** From now on this phone hears of every page; it sees the one that stands. */
  private stream(guest: Guest, out: ServerResponse): void {
    this.open.get(guest)?.end();
    this.open.set(guest, out);
    out.writeHead(200, { "content-type": "text/event-stream", "cache-control": "no-store" });
    out.on("close", () => {
      if (this.open.get(guest) === out) this.open.delete(guest);
    });
    send(out, "role", guest.role === "asks" ? `asks ${guest.number}` : guest.role);
    if (guest.role !== "asks" && this.page) send(out, "page", this.page);
  }
}

/** One message of a stream of events (HTML Living Standard, section 9.2). */
const send = (out: ServerResponse, event: string, data: unknown): void => {
  out.write(`event: ${event}\ndata: ${JSON.stringify(data)}\n\n`);
};
