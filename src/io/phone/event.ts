import type { PhonePage, PhoneSaid } from "../../run/phone/message.ts";
import type { Identity } from "./certificate.ts";

/** What passes between the run and the thread that serves phones. Moments are milliseconds of the system's monotonic clock, which all threads share. */

/** How phones are served: where, as whom, and how many may be paired; the first answers, the others only watch. */
export interface Serving {
  readonly identity: Identity;
  /** The one address that is listened at. */
  readonly address: string;
  /** How the phone is to call it: a name of the certificate, or the address itself. */
  readonly name: string;
  readonly port: number;
  readonly most: number;
  /** The folder in which pictures are kept. */
  readonly photos: string;
}

/** What the thread of the server tells the program. */
export type PhoneEvent =
  /** It listens. The secret pairs one phone, once. */
  | { readonly kind: "open"; readonly port: number; readonly secret: string }
  | { readonly kind: "cannot-open"; readonly words: string }
  /** A phone has shown the secret and asks to be let in; both screens show the same number. */
  | { readonly kind: "asks"; readonly phone: number; readonly number: string; readonly secret: string }
  | {
      readonly kind: "said";
      readonly phone: number;
      readonly said: PhoneSaid;
      /** When, by the system's clock, and how far off that may be. */
      readonly at: number;
      readonly give: number;
    }
  /** A picture was kept under this name, for the page that was drawn. */
  | { readonly kind: "photo"; readonly phone: number; readonly drawn: number; readonly file: string }
  /** Nothing was heard of the phone that answers for too long; it is back. */
  | { readonly kind: "lost" }
  | { readonly kind: "back" };

/** What the program orders the thread of the server to do. */
export type PhoneOrder =
  | { readonly kind: "show"; readonly page: PhonePage }
  | { readonly kind: "let-in"; readonly phone: number; readonly answer: "yes" | "no" }
  | { readonly kind: "close" };

/** Milliseconds of the system's monotonic clock, the same in every thread. */
export const systemNow = (): number => Number(process.hrtime.bigint()) / 1e6;
