/** Colour as eyes see it: contrast, distance, and the three dichromacies. For tests of the palette. */

type Triple = readonly [number, number, number];
type Matrix = readonly [Triple, Triple, Triple];

/** Linear light of an sRGB colour written #rrggbb, 0–1. Source: IEC 61966-2-1, as in WCAG 2.2 and CSS Color 4. */
export function linear(hex: string): Triple {
  const channel = (at: number) => {
    const value = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  };
  return [channel(1), channel(3), channel(5)];
}

/** Contrast of two colours, 1–21. Source: WCAG 2.2, "contrast ratio" and "relative luminance". */
export function contrast(a: string, b: string): number {
  const luminance = ([r, g, blue]: Triple) => 0.2126 * r + 0.7152 * g + 0.0722 * blue;
  const [dark, bright] = [luminance(linear(a)), luminance(linear(b))].sort((x, y) => x - y);
  return (bright! + 0.05) / (dark! + 0.05);
}

/** How a dichromat sees linear light. Source: Machado, Oliveira and Fernandes (2009), IEEE TVCG 15(6):1291–1298, severity 1. */
export const sights: Record<"full" | "protanopia" | "deuteranopia" | "tritanopia", Matrix> = {
  full: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1]
  ],
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998]
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881]
  ],
  tritanopia: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039]
  ]
};

/** OKLab coordinates of linear light. Source: Ottosson (2020), "A perceptual color space for image processing". */
export function oklab(light: Triple): Triple {
  const cones = times(
    [
      [0.4122214708, 0.5363325363, 0.0514459929],
      [0.2119034982, 0.6806995451, 0.1073969566],
      [0.0883024619, 0.2817188376, 0.6299787005]
    ],
    light
  );
  return times(
    [
      [0.2104542553, 0.793617785, -0.0040720468],
      [1.9779984951, -2.428592205, 0.4505937099],
      [0.0259040371, 0.7827717662, -0.808675766]
    ],
    [Math.cbrt(cones[0]), Math.cbrt(cones[1]), Math.cbrt(cones[2])]
  );
}

/** Distance of two colours in OKLab as a kind of sight sees them; black to white is 1. */
export function distance(a: string, b: string, sight: keyof typeof sights): number {
  const [x, y] = [a, b].map((color) => oklab(clamped(times(sights[sight], linear(color)))));
  return Math.hypot(x![0] - y![0], x![1] - y![1], x![2] - y![2]);
}

function times(matrix: Matrix, [x, y, z]: Triple): Triple {
  const row = ([a, b, c]: Triple) => a * x + b * y + c * z;
  return [row(matrix[0]), row(matrix[1]), row(matrix[2])];
}

function clamped([x, y, z]: Triple): Triple {
  const clamp = (value: number) => Math.min(1, Math.max(0, value));
  return [clamp(x), clamp(y), clamp(z)];
}
