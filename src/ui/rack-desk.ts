/** The keyboard's own side of a rack run. Changed by keys alone. */
export interface RackDesk {
  /** How many pages of fixtures were leafed on. */
  readonly leafed: number;
  /** In a break: the fixture that is spoken of, by its place in the rack. */
  readonly picked: number | undefined;
  readonly entry: RackEntry | undefined;
  /** Of those that are asked about: who did not count as watched, by places in the rack. */
  readonly excepted: readonly number[];
  /** Which answer the again button would take, once the press button has gone to one. */
  readonly mark: number | undefined;
}

/** Text on its way: the serial number of the fixture that was put in instead, or the initials of whoever watches. */
export interface RackEntry {
  readonly what: "serial" | "person";
  readonly text: string;
}

export const CLEAR_RACK_DESK: RackDesk = {
  leafed: 0,
  picked: undefined,
  entry: undefined,
  excepted: [],
  mark: undefined,
};
