import type { PhoneField, PhonePage, PhoneStrip } from "../run/phone/message.ts";
import { scanLabel, smallPhoto } from "./camera.ts";
import { type Role, type Says, sendPicture } from "./connection.ts";

/** A new page stands for so long before a touch answers it: nobody reads in less. */
const READ_MS = 400;
/** What starts movement is held for so long: a pocket and a glove touch too. */
const HOLD_MS = 600;

const byId = <T extends HTMLElement>(id: string): T => document.getElementById(id) as T;

const made = <K extends keyof HTMLElementTagNameMap>(name: K, text: string, look = ""): HTMLElementTagNameMap[K] => {
  const element = document.createElement(name);
  element.textContent = text;
  if (look !== "") element.className = look;
  return element;
};

/** Draws what the bench shows, and tells what was touched and when. */
export class Drawing {
  private readonly say: (says: Says, at: number) => void;
  private shown: PhonePage | undefined;
  private listensFrom = 0;
  private canAnswer = false;
  private lost = false;

  constructor(say: (says: Says, at: number) => void) {
    this.say = say;
    this.touched("press", (at) => this.tell("press", at));
    this.touched("again", (at) => this.tell("again", at));
    this.touched("stop", (at) => this.tell("stop", at));
    this.guard();
    addEventListener("pointerdown", ({ timeStamp }) => this.tell("here", timeStamp));
  }

  role(role: Role): void {
    this.canAnswer = role.kind === "answers";
    if (role.kind === "answers" || role.kind === "watches") return;
    byId("headline").textContent = HEADLINES[role.kind];
    const words = role.kind === "asks" ? `The terminal shows ${role.number} too: say yes there.` : WORDS[role.kind];
    byId("lines").replaceChildren(made("p", words, "strong"));
    for (const id of ["strips", "answers", "fields"]) byId(id).replaceChildren();
    for (const id of ["press", "again", "stop", "guarded", "isolator"]) byId(id).hidden = true;
  }

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

  link(state: "lost" | "there", kept: number): void {
    this.lost = state === "lost";
    this.kept(kept);
  }

  kept(count: number): void {
    const waiting = count > 0 ? ` ${count} saved with their times, sent when it is back.` : "";
    byId("link").textContent = this.lost ? `No connection to the bench: Stop does not reach it.${waiting}` : "";
  }

  private renew(page: PhonePage): void {
    this.listensFrom = performance.now() + READ_MS;
    const answers = page.answers.map(({ words, look }, choice) => {
      const button = made("button", words, look === "chosen" ? "chosen" : "");
      button.type = "button";
      button.setAttribute("aria-pressed", String(look === "chosen"));
      this.onTouch(button, (at) => this.answer(choice, at));
      return button;
    });
    byId("answers").replaceChildren(...(this.canAnswer ? answers : page.answers.map(({ words }) => made("p", words))));
    byId("fields").replaceChildren(...(this.canAnswer ? page.fields.map((field) => this.field(field)) : []));
    const asleep = [...answers, byId("guarded")];
    for (const button of asleep) button.setAttribute("aria-disabled", "true");
    setTimeout(() => {
      if (this.shown?.drawn === page.drawn) for (const button of asleep) button.setAttribute("aria-disabled", "false");
    }, READ_MS);
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

  private tell(kind: "press" | "again" | "stop" | "here", at: number): void {
    if (this.shown && this.canAnswer) this.say({ kind, drawn: this.shown.drawn }, at);
  }

  private answer(choice: number, at: number): void {
    const { shown } = this;
    if (shown && at >= this.listensFrom) this.say({ kind: "answer", drawn: shown.drawn, choice }, at);
  }

  private touched(id: string, tell: (at: number) => void): void {
    this.onTouch(byId(id), tell);
  }

  /** At the moment the finger comes down; by keyboard or a helper for the blind, which only clicks, at the click. */
  private onTouch(button: HTMLElement, tell: (at: number) => void): void {
    const counts = button.id === "press" || button.id === "again" || button.id === "stop" ? "pointerdown" : "pointerup";
    let downAt = Number.NEGATIVE_INFINITY;
    button.addEventListener("pointerdown", ({ timeStamp }) => {
      downAt = timeStamp;
      if (counts === "pointerdown") tell(timeStamp);
    });
    button.addEventListener("click", ({ timeStamp, detail }) => {
      if (detail === 0) tell(timeStamp);
      // A list is scrolled by touch as well: only a touch that stayed on its answer is one, and it must have begun on this page.
      else if (counts === "pointerup" && downAt >= this.listensFrom) tell(timeStamp);
    });
  }

  /** Held down, so that nothing moves for a pocket. */
  private guard(): void {
    const button = byId("guarded");
    let timer: ReturnType<typeof setTimeout> | undefined;
    const done = (at: number) => {
      const { shown } = this;
      if (shown && at >= this.listensFrom) this.say({ kind: "guarded", drawn: shown.drawn }, at);
    };
    const letGo = () => {
      clearTimeout(timer);
      button.classList.remove("held");
    };
    button.addEventListener("pointerdown", ({ timeStamp }) => {
      if (timeStamp < this.listensFrom) return;
      button.classList.add("held");
      timer = setTimeout(() => {
        letGo();
        done(performance.now());
      }, HOLD_MS);
    });
    for (const name of ["pointerup", "pointercancel", "pointerleave"]) button.addEventListener(name, letGo);
    button.addEventListener("contextmenu", (event) => event.preventDefault());
    button.addEventListener("click", ({ timeStamp, detail }) => {
      if (detail === 0) done(timeStamp);
    });
  }

  private field(field: PhoneField): HTMLElement {
    if (field.by === "photo") return this.photoField(field);
    const box = made("div", "", "field");
    const input = made("input", "");
    input.id = `field-${field.what}`;
    input.value = field.text;
    input.maxLength = 80;
    input.autocomplete = "off";
    input.inputMode = field.by === "digits" ? "decimal" : "text";
    const label = made("label", field.words);
    label.htmlFor = input.id;
    const keep = made("button", "Save it");
    keep.type = "button";
    keep.setAttribute("aria-label", `Save: ${field.words}`);
    const send = (at: number) => {
      if (this.shown && input.value.trim() !== "")
        this.say({ kind: "fill", drawn: this.shown.drawn, what: field.what, text: input.value.trim() }, at);
    };
    this.onTouch(keep, send);
    input.addEventListener("keydown", ({ key, timeStamp }) => {
      if (key === "Enter") send(timeStamp);
    });
    box.append(label, input, keep);
    if (field.by === "scan") box.prepend(this.scanButton(field, input, send));
    return box;
  }

  private scanButton(field: PhoneField, input: HTMLInputElement, send: (at: number) => void): HTMLElement {
    const button = made("button", "Scan the label", "chosen");
    button.type = "button";
    button.id = `scan-${field.what}`;
    button.addEventListener("click", async () => {
      const text = await lookThrough();
      if (text === undefined) return;
      input.value = text;
      send(performance.now());
    });
    return button;
  }

  private photoField({ what, words, text }: PhoneField): HTMLElement {
    const box = made("div", "", "field");
    const says = made("p", text, "faint");
    says.setAttribute("role", "status");
    const button = made("button", words);
    button.type = "button";
    button.id = `photo-${what}`;
    button.addEventListener("click", async () => {
      const drawn = this.shown?.drawn ?? 0;
      const file = await picked();
      const small = file && (await smallPhoto(file));
      if (!file) return;
      says.textContent = small ? "Sending the photo ..." : "This picture cannot be read.";
      if (!small) return;
      const { why } = await sendPicture(`/photo?drawn=${drawn}`, small);
      says.textContent = why === undefined ? "The photo is saved." : `Not saved: ${why}.`;
    });
    box.append(button, says);
    return box;
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

/** A picture from the camera or from the phone's own; undefined where somebody thought better of it. */
const picked = (): Promise<File | undefined> =>
  new Promise((resolve) => {
    const input = made("input", "");
    input.type = "file";
    input.accept = "image/*";
    input.setAttribute("capture", "environment");
    input.addEventListener("change", () => resolve(input.files?.[0]));
    input.addEventListener("cancel", () => resolve(undefined));
    input.click();
  });

/** Opens the camera over the page until a label was read. */
const lookThrough = (): Promise<string | undefined> =>
  new Promise((resolve) => {
    const look = byId<HTMLDialogElement>("look");
    const says = byId("look-says");
    let giveUp = () => {};
    const gaveUp = new Promise<void>((done) => {
      giveUp = done;
    });
    const end = (text: string | undefined) => {
      giveUp();
      look.close();
      resolve(text);
    };
    says.textContent = "Hold the label before the camera.";
    byId("look-over").onclick = () => end(undefined);
    look.oncancel = () => end(undefined);
    byId("look-photo").onclick = async () => {
      const file = await picked();
      const small = file && (await smallPhoto(file));
      if (!small) return;
      says.textContent = "Reading ...";
      const { text, why } = await sendPicture("/label", small);
      if (text !== undefined) end(text);
      else says.textContent = `Not read: ${why ?? ""}. Nearer, and with more light?`;
    };
    look.showModal();
    void scanLabel(byId<HTMLVideoElement>("video"), gaveUp).then((text) => {
      if (text === "no camera") says.textContent = "The camera cannot be used here. Take a photo, or type it.";
      else if (text !== undefined) end(text);
    });
  });
