import type { PhonePage } from "../run/phone/message.ts";

/** Whoever opened this page: not yet paired, waiting to be let in, answering, only watching, or turned away. */
export type Role =
  | { readonly kind: "stranger" | "answers" | "watches" | "refused" | "over" }
  | { readonly kind: "asks"; readonly number: string };

export interface Hears {
  role(role: Role): void;
  page(page: PhonePage): void;
  /** Nothing was heard of the bench for a while, or it is back. */
  connection(state: "lost" | "there"): void;
}

/** What is said, without the number and the moment that it is given here. */
export type Says =
  | { readonly kind: "press" | "again" | "stop" | "guarded" | "here"; readonly drawn: number }
  | { readonly kind: "answer"; readonly drawn: number; readonly choice: number }
  | { readonly kind: "fill"; readonly drawn: number; readonly what: string; readonly text: string };

/** The bench gives a sign of life every half second. */
const LOST_MS = 1400;
const PING_MS = 500;
const PATIENCE_MS = 1500;
/** How far the wall clock may run ahead of the page's own before the phone counts as having slept. */
const SLEPT_MS = 400;

/** Talks with the bench: hears pages, says what was pressed and when, and keeps it until it has arrived. */
export class Connection {
  private readonly hears: Hears;
  private waiting: (Says & { readonly id: number; readonly at: number; readonly era: number })[] = [];
  private id = 0;
  private era = 0;
  private heardAt = performance.now();
  private state: "lost" | "there" = "there";
  private before: { readonly sent: number; readonly back: number } | undefined;
  private ahead = Date.now() - performance.now();
  private sending = false;
  private over = false;

  constructor(hears: Hears) {
    this.hears = hears;
  }

  /** Connects with the secret of the code that was scanned, or with the cookie of before. */
  async begin(secret: string): Promise<void> {
    if (secret !== "") await ask("/pair", { secret });
    this.listen();
    setInterval(() => void this.ping(), PING_MS);
    setInterval(() => this.look(), 100);
  }

  /**
   * Says something to the bench; `at` is when it was done, in milliseconds by this page's own
   * clock, as the browser stamps its events.
   */
  say(says: Says, at: number): void {
    this.id += 1;
    this.waiting.push({ ...says, id: this.id, at, era: this.era });
    void this.send();
  }

  /** How many messages are kept and not sent yet. */
  get kept(): number {
    return this.waiting.filter(({ kind }) => kind !== "here").length;
  }

  private listen(): void {
    const events = new EventSource("/events");
    const on = (name: string, hear: (data: unknown) => void) =>
      events.addEventListener(name, (event) => {
        this.alive();
        hear(JSON.parse(event.data as string));
      });
    on("beat", () => {});
    on("page", (page) => this.hears.page(page as PhonePage));
    on("role", (role) => this.hears.role(roleOf(String(role))));
    on("over", () => {
      this.over = true;
      events.close();
      this.hears.role({ kind: "over" });
    });
    events.addEventListener("error", () => {
      // Refused for good is closed at once; a lost connection is tried again by the browser, slower than we want it.
      if (this.over) return;
      events.close();
      setTimeout(() => this.listen(), PING_MS);
    });
  }

  private alive(): void {
    this.heardAt = performance.now();
    this.look();
  }

  private look(): void {
    this.watchForSleep();
    const state = performance.now() - this.heardAt > LOST_MS && !this.over ? "lost" : "there";
    if (state === this.state) return;
    this.state = state;
    this.hears.connection(state);
    if (state === "there") void this.send();
  }

  /** The page's clock stands still while some phones sleep: what it says before and after are two clocks. */
  private watchForSleep(): void {
    const ahead = Date.now() - performance.now();
    if (Math.abs(ahead - this.ahead) > SLEPT_MS) {
      this.era += 1;
      this.before = undefined;
    }
    this.ahead = ahead;
  }

  private async ping(): Promise<void> {
    if (this.over) return;
    const { era, before } = this;
    const sent = performance.now();
    const answer = await ask("/clock", before ? { era, sent, before } : { era, sent });
    const back = performance.now();
    if (answer?.ok && era === this.era) this.before = { sent, back };
  }

  private async send(): Promise<void> {
    if (this.sending || this.waiting.length === 0) return;
    this.sending = true;
    const [first] = this.waiting;
    const batch = this.waiting.filter(({ era }) => era === first?.era).slice(0, 50);
    const said = batch.map(({ era: _, ...one }) => one);
    const answer = await ask("/say", { era: first?.era ?? 0, said });
    this.sending = false;
    if (answer?.ok || answer?.status === 400 || answer?.status === 403)
      this.waiting = this.waiting.filter((one) => !batch.includes(one));
    if (this.waiting.length > 0) setTimeout(() => void this.send(), answer?.ok ? 0 : PING_MS);
  }
}

const roleOf = (role: string): Role => {
  const [kind, number = ""] = role.split(" ");
  if (kind === "asks") return { kind, number };
  return { kind: kind === "answers" || kind === "watches" || kind === "refused" ? kind : "stranger" };
};

/** Undefined where nothing came back. */
const ask = async (path: string, body: unknown): Promise<Response | undefined> => {
  try {
    return await fetch(path, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(body),
      signal: AbortSignal.timeout(PATIENCE_MS),
    });
  } catch {
    return undefined;
  }
};

/** Sends a picture to the bench, which says in words what it made of it. */
export const sendPicture = async (
  path: string,
  picture: Blob,
): Promise<{ readonly text?: string; readonly why?: string }> => {
  try {
    const answer = await fetch(path, { method: "POST", body: picture, signal: AbortSignal.timeout(20_000) });
    return answer.headers.get("content-type")?.startsWith("application/json")
      ? ((await answer.json()) as { readonly text?: string; readonly why?: string })
      : { why: answer.status === 413 ? "this picture is too large" : "the bench did not take this picture" };
  } catch {
    return { why: "no connection to the bench" };
  }
};
