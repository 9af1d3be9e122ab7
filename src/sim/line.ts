import type { Frame } from "../domain/units.ts";
import { type DmxLine, LineError, type LineTrouble } from "../run/ports.ts";
import type { FixtureBuild, Menu } from "./build.ts";
import { Fixture, type FixtureOptions, HEALTHY } from "./fixture.ts";
import type { Comparison } from "./scene.ts";

/** One fixture on the simulated line, and what hangs or stands beside it. */
export interface Plugged {
  readonly build: FixtureBuild;
  readonly options: FixtureOptions;
}

/** The frame's scenes, one comparison per fixture in the order in which they were plugged. */
export type SceneListener = (comparisons: readonly Comparison[]) => void;

/**
 * The simulated DMX line: a door like the real ones, with simulated fixtures on it. Each frame sent is 25 ms of their
 * time. Beside each works its healthy twin, which hears the same frames; only the watcher's experience knows of it.
 */
export class SimLine implements DmxLine {
  readonly name = "sim";
  private readonly heads: { readonly fixture: Fixture; readonly twin: Fixture }[];
  private readonly listeners = new Set<SceneListener>();
  private lost: ((error: LineError) => void) | undefined;
  private open_ = false;
  private trouble: LineTrouble | undefined;
  private dropping: Frame = 0;

  constructor(plugged: readonly Plugged[]) {
    this.heads = plugged.map(pairOf);
  }

  async open(lost: (error: LineError) => void): Promise<void> {
    if (this.trouble) throw troubleWith(this.trouble);
    this.lost = lost;
    this.open_ = true;
  }

  send(levels: Uint8Array): "sent" | "dropped" {
    if (this.open_ && this.dropping === 0) {
      this.advance(levels);
      return "sent";
    }
    if (this.dropping > 0) this.dropping -= 1;
    this.advance(undefined);
    return "dropped";
  }

  async close(): Promise<void> {
    this.open_ = false;
    this.lost = undefined;
  }

  /** Hears every frame's scenes until the returned function is called. */
  scenes(listener: SceneListener): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** A lever for tests: how many of the next frames are dropped, as by a stalled interface. */
  stall(frames: Frame): void {
    this.dropping = frames;
  }

  /** Lever: the line is gone, and opening it fails until `restore`. */
  vanish(trouble: LineTrouble): void {
    this.trouble = trouble;
    const { lost } = this;
    this.open_ = false;
    this.lost = undefined;
    lost?.(troubleWith(trouble));
  }

  /** Lever: the line can be opened again. */
  restore(): void {
    this.trouble = undefined;
  }

  /** Lever: time passes without a frame. */
  pass(frames: Frame): void {
    for (let n = 0; n < frames; n += 1) this.advance(undefined);
  }

  /** Lever: the mains of all fixtures, or of those in these places. */
  mains(is: "on" | "off", places: readonly number[] = [...this.heads.keys()]): void {
    for (const place of places) {
      this.heads[place]?.fixture.mains(is);
      this.heads[place]?.twin.mains(is);
    }
  }

  /** Lever: the address is set anew at a fixture's panel. */
  setAddress(place: number, address: number): void {
    this.setMenu(place, (menu) => ({ ...menu, address }));
  }

  /** Lever: the same for any of its settings. Its healthy twin follows to the address. */
  setMenu(place: number, change: (menu: Menu) => Menu): void {
    const head = this.heads[place];
    if (!head) return;
    head.fixture.menu = change(head.fixture.menu);
    head.twin.menu = { ...head.twin.menu, address: head.fixture.menu.address };
  }

  /** One begins its own test, and its healthy twin with it. */
  testItself(place: number): void {
    this.heads[place]?.fixture.testItself();
    this.heads[place]?.twin.testItself();
  }

  /** The fixture that is plugged in at a place just now. */
  fixtureAt(place: number): Fixture | undefined {
    return this.heads[place]?.fixture;
  }

  /** Lever: another fixture is plugged in instead. */
  swap(place: number, plugged: Plugged): void {
    this.heads[place] = pairOf(plugged);
  }

  private advance(levels: Uint8Array | undefined): void {
    const comparisons = this.heads.map(({ fixture, twin }) => ({
      scene: fixture.advance(levels),
      twin: twin.advance(levels),
    }));
    for (const listener of this.listeners) listener(comparisons);
  }
}

const pairOf = ({ build, options }: Plugged) => ({
  fixture: new Fixture(build, options),
  twin: new Fixture(build, { ...HEALTHY, attitude: options.attitude, warmth: options.warmth }),
});

const troubleWith = (trouble: LineTrouble): LineError => new LineError(trouble, `the simulated line is ${trouble}`);
