import { bad, good, problem, type Result } from "../../domain/problem/problem.ts";
import type { PhoneEvent, Serving } from "../../io/phone/event.ts";
import type { PhoneDoor } from "../../io/phone/thread.ts";
import { typedLines } from "../../ui/typed-lines.ts";
import { codeRows } from "./code.ts";

/**
 * Shows the code, and lets in whoever a person at the terminal says yes to. Gives how many phones were let in, from
 * 0: none where somebody goes on without.
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
