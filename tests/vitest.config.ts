import { defineConfig } from "vitest/config";

/** Three suites: `main` needs npm packages alone; `postgres` and `browser` need Debian's packages (see .ci/run). */
export default defineConfig({
  test: {
    root: new URL("..", import.meta.url).pathname,
    testTimeout: 30_000,
    hookTimeout: 60_000,
    projects: [
      {
        extends: true,
        test: {
          name: "main",
          include: ["tests/**/*.test.ts"],
          exclude: ["tests/postgres/**", "tests/browser/**"],
        },
      },
      { extends: true, test: { name: "postgres", include: ["tests/postgres/**/*.test.ts"] } },
      {
        extends: true,
        test: { name: "browser", include: ["tests/browser/**/*.test.ts"], fileParallelism: false },
      },
    ],
  },
});
