/**
 * What has to be true before ink and React are loaded; imported first, for its effect. Production: otherwise React keeps
 * a measurement of every drawing for ever. Not CI: otherwise ink does not hear of a terminal of another size and shows no colour. Colours:
 * ink knows FORCE_COLOR, not NO_COLOR (no-color.org: set and not empty).
 */
process.env["NODE_ENV"] = "production";
delete process.env["CI"];
delete process.env["CONTINUOUS_INTEGRATION"];
if (process.env["NO_COLOR"]) process.env["FORCE_COLOR"] = "0";
