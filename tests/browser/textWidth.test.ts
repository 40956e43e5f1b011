import {expect, it} from "vitest";
import {textWidth} from "../../lib/report/textWidth.ts";
import {describeInBrowser} from "./needsBrowser.ts";

const labels = [
  "Density at 12 % moisture (kg/m³) →",
  "Alder Lane Yard",
  "Elverstone Sawmill and Timber Merchants",
  "Müller & Söhne, Holzhandlung",
  "illicit filling",
  "WHOLESALE TIMBER",
  "mammoth hammock",
  "1 284",
  "−12.5",
  "2026-10-31"
];

describeInBrowser("textWidth against a browser’s own layout", (browser) => {
  it.each(["Liberation Sans", "Arial", "Segoe UI", "Noto Sans"])(
    "%s or what stands for it is never wider, and at most 40 %% narrower, than estimated",
    async (family) => {
      const page = await browser().newPage();
      const widths = await page.evaluate(
        ([texts, face]) => {
          const pen = document.createElement("canvas").getContext("2d")!;
          pen.font = `100px "${face}", "Liberation Sans", sans-serif`;
          return texts.map((text) => pen.measureText(text).width);
        },
        [labels, family] as const
      );
      await page.close();
      for (const [i, label] of labels.entries()) {
        expect(textWidth(label, 100), label).toBeGreaterThanOrEqual(widths[i]!);
        expect(textWidth(label, 100), label).toBeLessThanOrEqual(widths[i]! * 1.4);
      }
    }
  );
});
