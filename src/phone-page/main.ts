import type { PhonePage } from "../run/phone/message.ts";
import { Connection, type Role } from "./connection.ts";
import { Drawing } from "./drawing.ts";

/** Draws a busy person's attention: the phone shakes and sounds when a step begins and when an answer is wanted, and its screen stays awake. */
class PageAttention {
  private audio: AudioContext | undefined;
  private lock: WakeLockSentinel | undefined;

  constructor() {
    // Browsers let a page sound and stay awake only after somebody has touched it.
    addEventListener("pointerdown", () => void this.wake(), { capture: true });
    document.addEventListener("visibilitychange", () => void this.wake());
  }

  /** Beeps short and low: a step begins. */
  begins(): void {
    navigator.vibrate?.(60);
    this.tone(440, 0.08);
  }

  /** Beeps twice and higher: an answer is wanted. */
  asks(): void {
    navigator.vibrate?.([120, 80, 120]);
    this.tone(660, 0.09);
    this.tone(880, 0.12, 0.14);
  }

  /** Beeps long: the connection is lost. */
  lost(): void {
    navigator.vibrate?.(400);
    this.tone(220, 0.35);
  }

  private async wake(): Promise<void> {
    this.audio ??= new AudioContext();
    if (this.audio.state === "suspended") await this.audio.resume();
    if (document.visibilityState !== "visible" || (this.lock && !this.lock.released)) return;
    try {
      this.lock = await navigator.wakeLock?.request("screen");
    } catch {
      // Low on power a phone may refuse; the screen then goes out as it always does.
    }
  }

  private tone(hertz: number, seconds: number, later = 0): void {
    const { audio } = this;
    if (audio?.state !== "running") return;
    const at = audio.currentTime + later;
    const [source, volume] = [audio.createOscillator(), audio.createGain()];
    source.frequency.value = hertz;
    volume.gain.setValueAtTime(0.2, at);
    volume.gain.exponentialRampToValueAtTime(0.001, at + seconds);
    source.connect(volume).connect(audio.destination);
    source.start(at);
    source.stop(at + seconds);
  }
}

/** The page in the technician's hand. Nothing of the run is decided here: it shows, and says when it was touched. */

const secret = location.hash.slice(1);
history.replaceState(undefined, "", "/");

let page: PhonePage | undefined;
let role: Role = { kind: "stranger" };
const attention = new PageAttention();

const connection = new Connection({
  role: (now) => {
    role = now;
    drawing.role(role);
    drawing.page(page, role);
  },
  page: (now) => {
    if (now.drawn !== page?.drawn) call(page, now);
    page = now;
    drawing.page(page, role);
  },
  connection: (state) => {
    if (state === "lost") attention.lost();
    drawing.link(state, connection.kept);
  },
});

const drawing = new Drawing((says, at) => {
  connection.say(says, at);
  drawing.kept(connection.kept);
});

/** A step begins, or an answer is wanted. */
const call = (before: PhonePage | undefined, now: PhonePage): void => {
  if (now.moving === "moves" && (before?.moving !== "moves" || before.headline !== now.headline)) attention.begins();
  else if (
    now.moving === "stands" &&
    (now.answers.length > 0 || now.guarded !== "") &&
    before?.headline !== now.headline
  )
    attention.asks();
};

drawing.role(role);
void connection.begin(secret);
