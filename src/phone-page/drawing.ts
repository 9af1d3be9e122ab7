import type { PhonePage, PhoneStrip } from "../run/phone/message.ts";
import type { Role, Says } from "./connection.ts";
import { fieldElement } from "./fields.ts";
import { byId, made, Touch } from "./touch.ts";

/** Draws what the bench shows, and tells what was touched and when. */
export class Drawing {
  private readonly say: (says: Says, at: number) => void;
  private shown: PhonePage | undefined;
  private readonly touch = new Touch();
  private canAnswer = false;
  private lost = false;

  constructor(say: (says: Says, at: number) => void) {
    this.say = say;
    this.touched("press", (at) => this.tell("press", at));
    this.touched("again", (at) => this.tell("again", at));
    this.touched("stop", (at) => this.tell("stop", at));
    this.touch.onHeld(byId("guarded"), (at) => {
      const { shown } = this;
      if (shown && this.touch.isMeant(at)) this.say({ kind: "guarded", drawn: shown.drawn }, at);
    });
    addEventListener("pointerdown", ({ timeStamp }) => this.tell("here", timeStamp));
  }

  /** Shows what this phone may do: wait to be let in, answer, watch, or nothing any more. */
  role(role: Role): void {
    this.canAnswer = role.kind === "answers";
    if (role.kind === "answers" || role.kind === "watches") return;
    byId("headline").textContent = HEADLINES[role.kind];
    const words = role.kind === "asks" ? `The terminal shows ${role.number} too: say yes there.` : WORDS[role.kind];
    byId("lines").replaceChildren(made("p", words, "strong"));
    for (const id of ["strips", "answers", "fields"]) byId(id).replaceChildren();
    for (const id of ["press", "again", "stop", "guarded", "isolator"]) byId(id).hidden = true;
  }

  /** Shows a page to a phone that answers or watches. */
  page(page: PhonePage | undefined, role: Role): void {
    if (!page || (role.kind !== "answers" && role.kind !== "watches")) return;
    const isNew = page.drawn !== this.shown?.drawn;
    this.shown = page;
    byId("where").textContent = [page.where, page.step, this.canAnswer ? "" : "watching only"]
      .filter(Boolean)
      .join(" · ");
    byId("headline").textContent = page.headline;
    byId("lines").replaceChildren(...page.lines.map(({ text, look }) => made("p", text, look)));
    this.strips(page.strips);
    this.button("press", page.press);
    this.button("again", page.again);
    this.button("stop", page.stop);
    this.button("guarded", page.guarded);
    byId("isolator").hidden = page.stop === "";
    if (isNew) this.renew(page);
  }

  /** Shows whether the bench can be reached. `kept` is how many messages wait to be sent. */
  link(state: "lost" | "there", kept: number): void {
    this.lost = state === "lost";
    this.kept(kept);
  }

  /** Shows how many messages wait to be sent. `count` is from 0. */
  kept(count: number): void {
    const waiting = count > 0 ? ` ${count} saved with their times, sent when it is back.` : "";
    byId("link").textContent = this.lost ? `No connection to the bench: Stop does not reach it.${waiting}` : "";
  }

  private renew(page: PhonePage): void {
    const answers = page.answers.map(({ words, look }, choice) => {
      const button = made("button", words, look === "chosen" ? "chosen" : "");
      button.type = "button";
      button.setAttribute("aria-pressed", String(look === "chosen"));
      this.touch.onTouch(button, (at) => this.answer(choice, at));
      return button;
    });
    byId("answers").replaceChildren(...(this.canAnswer ? answers : page.answers.map(({ words }) => made("p", words))));
    byId("fields").replaceChildren(
      ...(this.canAnswer ? page.fields.map((field) => fieldElement(field, this.fieldPage)) : []),
    );
    const asleep = [...answers, byId("guarded")];
    for (const button of asleep) button.setAttribute("aria-disabled", "true");
    this.touch.renewed(() => {
      if (this.shown?.drawn === page.drawn) for (const button of asleep) button.setAttribute("aria-disabled", "false");
    });
  }

  private button(id: string, words: string): void {
    const button = byId(id);
    button.hidden = words === "" || !this.canAnswer;
    if (button.textContent !== words) button.textContent = words;
  }

  private strips(strips: readonly PhoneStrip[]): void {
    const box = byId("strips");
    while (box.children.length > strips.length) box.lastElementChild?.remove();
    while (box.children.length < strips.length) box.append(emptyStrip());
    strips.forEach((strip, at) => {
      const element = box.children[at];
      const label = element?.querySelector("span");
      if (label) label.textContent = strip.words === "" ? strip.label : `${strip.label}: ${strip.words}`;
      put(element?.querySelector(".commanded"), strip.commanded);
      put(element?.querySelector(".actual"), strip.actual);
    });
  }

  private readonly fieldPage = {
    drawn: () => this.shown?.drawn,
    say: (says: Says, at: number) => this.say(says, at),
    onTouch: (button: HTMLElement, tell: (at: number) => void) => this.touch.onTouch(button, tell),
  };

  private tell(kind: "press" | "again" | "stop" | "here", at: number): void {
    if (this.shown && this.canAnswer) this.say({ kind, drawn: this.shown.drawn }, at);
  }

  private answer(choice: number, at: number): void {
    const { shown } = this;
    if (shown && this.touch.isMeant(at)) this.say({ kind: "answer", drawn: shown.drawn, choice }, at);
  }

  private touched(id: string, tell: (at: number) => void): void {
    this.touch.onTouch(byId(id), tell);
  }
}

const HEADLINES = {
  stranger: "Not paired",
  asks: "Compare the number",
  refused: "Not connected",
  over: "The run is over",
} as const;
const WORDS = {
  stranger: "Scan the code at the terminal with this phone's camera.",
  refused: "A person at the terminal refused this phone.",
  over: "Nothing is served any more. The terminal has the rest.",
} as const;

const emptyStrip = (): HTMLElement => {
  const strip = made("div", "", "strip");
  const rail = made("div", "", "rail");
  rail.append(made("i", "", "commanded"), made("i", "", "actual"));
  strip.append(made("span", ""), rail);
  return strip;
};

const put = (mark: Element | null | undefined, share: number | undefined): void => {
  if (!(mark instanceof HTMLElement)) return;
  mark.hidden = share === undefined;
  mark.style.setProperty("--at", String(Math.min(1, Math.max(0, share ?? 0))));
};
