/** The element of the page with this id; the page has every id that is asked for. */
export const byId = <T extends HTMLElement>(id: string): T => document.getElementById(id) as T;

/** A new element with this text and, unless it is empty, this class. */
export const made = <K extends keyof HTMLElementTagNameMap>(
  name: K,
  text: string,
  look = "",
): HTMLElementTagNameMap[K] => {
  const element = document.createElement(name);
  element.textContent = text;
  if (look !== "") element.className = look;
  return element;
};

/** How long a new page is shown before a touch answers it: nobody reads in less. */
const READ_MS = 400;
/** How long a button that starts movement must be held: a pocket and a glove touch too. */
const HOLD_MS = 600;

/** What counts as a touch: a page that has just come is not answered by a finger that was on its way to the one before. */
export class Touch {
  private listensFrom = 0;

  /** Notes that another page is shown: it listens when there was time to read it; then `ready` is called. */
  renewed(ready: () => void): void {
    this.listensFrom = performance.now() + READ_MS;
    setTimeout(ready, READ_MS);
  }

  /** Whether a touch can be meant for the page that is shown. `at` is when it came, in milliseconds of the page's clock. */
  isMeant(at: number): boolean {
    return at >= this.listensFrom;
  }

  /**
   * Tells of a touch at the moment the finger comes down; by keyboard or a helper for the
   * blind, which only clicks, at the click.
   */
  onTouch(button: HTMLElement, tell: (at: number) => void): void {
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

  /** Tells of a button that is held down for a while, so that nothing moves for a pocket. */
  onHeld(button: HTMLElement, done: (at: number) => void): void {
    let timer: ReturnType<typeof setTimeout> | undefined;
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
}
