import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { ownIdentity } from "../../src/io/phone/certificate.ts";
import { type PhoneEvent, phoneThread } from "../../src/io/phone/thread.ts";
import type { PhonePage } from "../../src/run/phone/message.ts";
import { built } from "./built.ts";

/** The page and its server as they are shipped, in their own thread, without a run behind them: a test says what is shown and reads what was said. */
export interface ServedPhone {
  /** With a secret that pairs one phone. */
  address(): string;
  show(page: PhonePage): void;
  /** Lets in whoever asked last. */
  letIn(): Promise<void>;
  /** Waits for the first event that fits, and takes it and all before it away. */
  next<Kind extends PhoneEvent["kind"]>(
    kind: Kind,
    fits?: (event: Extract<PhoneEvent, { readonly kind: Kind }>) => boolean,
  ): Promise<Extract<PhoneEvent, { readonly kind: Kind }>>;
  /** Everything that was told and not taken away. */
  readonly events: readonly PhoneEvent[];
  close(): Promise<void>;
}

export const servedPhone = async (most = 2): Promise<ServedPhone> => {
  const folder = mkdtempSync(join(tmpdir(), "limber-phone-"));
  const door = phoneThread(
    {
      identity: ownIdentity("", "127.0.0.1", new Date()),
      address: "127.0.0.1",
      name: "127.0.0.1",
      port: 0,
      most,
      photos: join(folder, "photos"),
    },
    pathToFileURL(join(built(), "bundle", "phone-worker.js")),
  );
  const events: PhoneEvent[] = [];
  let heard = () => {};
  let secret = "";
  door.listen((event) => {
    if (event.kind === "open" || event.kind === "asks") ({ secret } = event);
    events.push(event);
    heard();
  });
  const next: ServedPhone["next"] = (kind, fits = () => true) =>
    new Promise((resolve) => {
      heard = () => {
        const at = events.findIndex((event) => event.kind === kind && fits(event as never));
        if (at < 0) return;
        heard = () => {};
        resolve(events.splice(0, at + 1).at(-1) as never);
      };
      heard();
    });
  const { port } = await next("open");
  return {
    address: () => `https://127.0.0.1:${port}/#${secret}`,
    show: (page) => door.order({ kind: "show", page }),
    letIn: async () => door.order({ kind: "let-in", phone: (await next("asks")).phone, answer: "yes" }),
    next,
    events,
    close: async () => {
      await door.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
};
