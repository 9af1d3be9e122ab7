import fc from "fast-check";

/**
 * Properties are tried with the same seed everywhere, so that a run says the same today and tomorrow, here and on a server.
 * SEED=random (or a number) npm test tries others: a seed that fails is a find, and gets an example of its own.
 */
const wanted = process.env["SEED"];
if (wanted !== "random") fc.configureGlobal({ ...fc.readConfigureGlobal(), seed: Number(wanted ?? 20_261_128) });
