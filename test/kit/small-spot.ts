/** A profile whose movements take tenths of a second: for stories played in real time. */
export const SMALL_SPOT = `profile: small
fixture: small
title: Small spot for a story
slots: 7
power_up_s: 1
lamp: { kind: led, strike_s: 0.2, warm_s: 1, restrike_s: 1 }
functions:
  Pan: { slots: [1, 2], from_deg: -270, to_deg: 270, full_travel_s: 0.6, lag_s: 0.1 }
  Tilt: { slots: [3, 4], from_deg: -135, to_deg: 135, full_travel_s: 0.5, lag_s: 0.1 }
  Shutter1: { slots: [5], move_s: 0.1, bands: [{ from: 0, to: 31, is: closed }, { from: 32, to: 255, is: open }] }
  Dimmer: { slots: [6], from_pct: 0, to_pct: 100, full_travel_s: 0.1, lag_s: 0.05 }
  Iris: { slots: [7], from_pct: 0, to_pct: 100, full_travel_s: 0.3, lag_s: 0.05 }
rest: { Shutter1: closed, Dimmer: 0 }
`;
