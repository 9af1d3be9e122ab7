import type { PhoneField } from "../run/phone/message.ts";
import { scanLabel, smallPhoto } from "./camera.ts";
import { type Says, sendPicture } from "./connection.ts";
import { byId, made } from "./touch.ts";

/** What a field needs of the page it stands on. */
interface FieldPage {
  /** The number of the page that is shown now; undefined before the first. */
  drawn(): number | undefined;
  say(says: Says, at: number): void;
  onTouch(button: HTMLElement, tell: (at: number) => void): void;
}

/** One thing to fill in: typed, read from a label or photographed. `drawn` is the page that is shown when it is sent. */
export const fieldElement = (field: PhoneField, page: FieldPage): HTMLElement => {
  if (field.by === "photo") return photoField(field, page);
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
    const drawn = page.drawn();
    if (drawn !== undefined && input.value.trim() !== "")
      page.say({ kind: "fill", drawn, what: field.what, text: input.value.trim() }, at);
  };
  page.onTouch(keep, send);
  input.addEventListener("keydown", ({ key, timeStamp }) => {
    if (key === "Enter") send(timeStamp);
  });
  box.append(label, input, keep);
  if (field.by === "scan") box.prepend(scanButton(field, input, send));
  return box;
};

const scanButton = (field: PhoneField, input: HTMLInputElement, send: (at: number) => void): HTMLElement => {
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
};

const photoField = ({ what, words, text }: PhoneField, page: FieldPage): HTMLElement => {
  const box = made("div", "", "field");
  const says = made("p", text, "faint");
  says.setAttribute("role", "status");
  const button = made("button", words);
  button.type = "button";
  button.id = `photo-${what}`;
  button.addEventListener("click", async () => {
    const drawn = page.drawn() ?? 0;
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
