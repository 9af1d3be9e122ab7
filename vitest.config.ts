import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["test/**/*.test.{ts,tsx}"],
    testTimeout: 30_000,
    hookTimeout: 60_000,
    // Many tests wait for programs under a terminal rather than compute: a core left free would only make all of it longer.
    maxWorkers: "100%",
  },
});
