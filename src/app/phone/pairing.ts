import { encode } from "uqr";
import { bad, good, problem, type Result } from "../../domain/problem/problem.ts";
import type { PhoneDoor, PhoneEvent, Serving } from "../../io/phone/thread.ts";
import { typedLines } from "../../ui/typed-lines.ts";

/**
 * Shows the code, and lets in whoever a person at the terminal says yes to. Gives how many phones were let in, from 0: none
 * where somebody goes on without. Refused where the server cannot listen.
 */
export const letPhonesIn = (door: PhoneDoor, serving: Serving): Promise<Result<number>> =>
  new Promise((resolve) => {
    const lines = typedLines();
    const pairing = new Pairing(door, serving, lines.say);
    const settle = (outcome: Result<number> | undefined) => {
      if (!outcome) return;
      door.listen(() => {});
      deaf();
      lines.close();
      resolve(outcome);
    };
    const deaf = lines.each((line) => settle(pairing.typed(line)));
    door.listen((event) => settle(pairing.heard(event)));
  });

/** One phone after the other; undefined while it goes on. */
class Pairing {
  private readonly door: PhoneDoor;
  private readonly serving: Serving;
  private readonly say: (words: string) => void;
  private port = 0;
  private secret = "";
  private asking: number | undefined;
  private paired = 0;

  constructor(door: PhoneDoor, serving: Serving, say: (words: string) => void) {
    this.door = door;
    this.serving = serving;
    this.say = say;
  }

  heard(event: PhoneEvent): Result<number> | undefined {
    if (event.kind === "cannot-open") return bad(problem("--phone", event.words, "leave --phone out to go on without"));
    if (event.kind === "open") {
      this.port = event.port;
      this.secret = event.secret;
      this.show();
    } else if (event.kind === "asks") {
      this.secret = event.secret;
      this.asking = event.phone;
      this.say(`A phone wants to connect. Does it show ${event.number}? y, then ENTER: yes. Anything else: no.`);
    }
    return undefined;
  }

  typed(line: string | undefined): Result<number> | undefined {
    if (line === undefined) return good(this.paired);
    const said = line.trim().toLowerCase();
    if (this.asking === undefined) return said === "" ? good(this.paired) : undefined;
    this.door.order({ kind: "let-in", phone: this.asking, answer: said === "y" ? "yes" : "no" });
    this.asking = undefined;
    if (said === "y") this.paired += 1;
    if (this.paired >= this.serving.most) return good(this.paired);
    this.show();
    return undefined;
  }

  private show(): void {
    const { name, identity } = this.serving;
    const address = `https://${name}:${this.port}/`;
    // Straight to the terminal: the colours are part of the code.
    process.stdout.write(`${codeRows(`${address}#${this.secret}`).join("\n")}\n`);
    this.say(`Scan it with the phone's camera. The address is ${address}`);
    this.say("The phone warns once that it does not know this bench. Its certificate has the SHA-256 fingerprint");
    this.say(`  ${identity.fingerprint.slice(0, 47)}\n  ${identity.fingerprint.slice(48)}`);
    this.say(
      this.paired === 0
        ? "ENTER without a phone: go on at the terminal alone."
        : "A phone is connected. Another one can only watch. ENTER: begin.",
    );
  }
}

/**
 * A QR code (ISO/IEC 18004) as rows of a terminal, two rows of squares in one: always dark on
 * light, whatever the terminal's own colours.
 */
const codeRows = (text: string): readonly string[] => {
  const { data } = encode(text, { ecc: "L", border: 2 });
  const rows: string[] = [];
  for (let y = 0; y < data.length; y += 2) {
    const [upper = [], lower = []] = [data[y], data[y + 1]];
    const cells = upper.map((isDark, x) => CELLS[`${isDark ? 1 : 0}${lower[x] ? 1 : 0}`] ?? " ");
    rows.push(`${BLACK_ON_WHITE}${cells.join("")}${AS_BEFORE}`);
  }
  return rows;
};

/** Blocks are drawn in the colour of letters. */
const CELLS: Readonly<Record<string, string>> = { "00": " ", "10": "\u2580", "01": "\u2584", "11": "\u2588" };
/** Select Graphic Rendition (ECMA-48, 8.3.117), with the bright white that most terminals know. */
const BLACK_ON_WHITE = "\u001b[30;107m";
const AS_BEFORE = "\u001b[0m";
