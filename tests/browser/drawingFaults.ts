import type {Page} from "playwright-core";

/**
 * What a reader would see wrong with the drawings in view: a label that runs out of its drawing, two labels one over the
 * other, a label too small to read, a label that is turned, a label of more than fifty letters. Half a pixel is let pass. Returns one sentence a fault.
 */
export function drawingFaults(page: Page): Promise<string[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll<SVGSVGElement>(".drawing svg")]
      .filter((svg) => svg.getBoundingClientRect().width > 0)
      .flatMap((svg) => {
        const frame = svg.getBoundingClientRect();
        const name = svg.closest("section")?.id ?? "drawing";
        const labels = [...svg.querySelectorAll("text")]
          .filter((text) => text.textContent !== "")
          .map((text) => ({
            text: text.textContent,
            size: Number.parseFloat(getComputedStyle(text).fontSize),
            box: text.getBoundingClientRect()
          }));
        const scale = frame.width / svg.viewBox.baseVal.width;
        const out = labels
          .filter(
            ({box}) =>
              box.left < frame.left - 0.5 ||
              box.right > frame.right + 0.5 ||
              box.top < frame.top - 0.5 ||
              box.bottom > frame.bottom + 0.5
          )
          .map(({text}) => `${name}: "${text}" runs out of its drawing`);
        const small = labels
          .filter(({size}) => size * scale < 10.9)
          .map(({text}) => `${name}: "${text}" is smaller than 11 px`);
        const turned = [...svg.querySelectorAll("text")]
          .filter((text) => {
            const {b = 0, c = 0} = text.getScreenCTM() ?? {};
            return Math.abs(b) > 1e-6 || Math.abs(c) > 1e-6;
          })
          .map((text) => `${name}: "${text.textContent}" is turned`);
        const long = labels
          .filter(({text}) => text !== null && text.length > 50)
          .map(({text}) => `${name}: "${text}" is longer than 50 letters`);
        const over = labels.flatMap(({text, box}, i) =>
          labels
            .slice(0, i)
            .filter(
              ({box: other}) =>
                box.left < other.right - 0.5 &&
                other.left < box.right - 0.5 &&
                box.top < other.bottom - 2 &&
                other.top < box.bottom - 2
            )
            .map((other) => `${name}: "${text}" lies over "${other.text}"`)
        );
        return [...out, ...small, ...turned, ...long, ...over];
      })
  );
}
