import {defineConfig} from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    environment: "node",
    testTimeout: 120_000,
    hookTimeout: 120_000,
    reporters: process.env.CI ? ["default", ["json", {outputFile: "reports/tests.json"}]] : ["default"]
  }
});
