import type { RigConduct } from "../session/input.ts";

/** What the world tells a run of one or many fixtures: each line by its universe, each record by its run. */
export type RackWorld =
  | { readonly kind: "begin" }
  | { readonly kind: "played"; readonly answers: string; readonly rig: RigConduct }
  | { readonly kind: "line-lost"; readonly universe: number; readonly words: string }
  | { readonly kind: "line-open"; readonly universe: number }
  /** So many events of `run` are on disk. */
  | { readonly kind: "stored"; readonly run: string; readonly count: number }
  | { readonly kind: "journal-failed"; readonly words: string }
  | { readonly kind: "signal"; readonly name: string };
