// Shades of a photograph, scaled down: how light and how warm every pixel is, smoothed, so that its edges can be followed.

/** A plane of one shade, row by row. */
export type Plane = Float32Array;

/** fine: smoothed by a pixel, to find an edge within; coarse: by two, to follow it past grain and noise. scale: pixels of the picture for one. */
export interface Shades {
  readonly wide: number;
  readonly tall: number;
  readonly scale: number;
  readonly fine: readonly Plane[];
  readonly coarse: readonly Plane[];
}

/** The longer side in pixels: a pixel is 2 mm of a piece 3 m long, nearer than a finger points. */
const LONGEST = 1500;
const BINOMIAL = [1 / 16, 4 / 16, 6 / 16, 4 / 16, 1 / 16] as const;
const COARSER = 3;

/** rgba: four values for every pixel, as a canvas gives them. */
export function shadesOf(rgba: ArrayLike<number>, wide: number, tall: number, scale: number): Shades {
  const light = new Float32Array(wide * tall);
  const warm = new Float32Array(wide * tall);
  for (let i = 0; i < light.length; i++) {
    const [red, green, blue] = [rgba[4 * i] as number, rgba[4 * i + 1] as number, rgba[4 * i + 2] as number];
    light[i] = 0.3 * red + 0.59 * green + 0.11 * blue;
    warm[i] = red - blue;
  }
  const fine = [light, warm].map((plane) => smoothed(plane, wide, tall));
  let coarse = fine;
  for (let k = 0; k < COARSER; k++) coarse = coarse.map((plane) => smoothed(plane, wide, tall));
  return { wide, tall, scale, fine, coarse };
}

/** By one pixel, along rows and along columns; beyond the rim lies what lies on it. */
function smoothed(plane: Plane, wide: number, tall: number): Plane {
  return alongColumns(alongRows(plane, wide, tall), wide, tall);
}

function alongRows(plane: Plane, wide: number, tall: number): Plane {
  const [a, b, c] = BINOMIAL;
  const made = new Float32Array(plane.length);
  for (let y = 0; y < tall; y++) {
    const row = y * wide;
    const last = row + wide - 1;
    for (let i = row; i <= last; i++) {
      const [far, near] = [Math.max(row, i - 2), Math.max(row, i - 1)];
      const [next, beyond] = [Math.min(last, i + 1), Math.min(last, i + 2)];
      made[i] = a * ((plane[far] as number) + (plane[beyond] as number)) + b * ((plane[near] as number) + (plane[next] as number)) + c * (plane[i] as number);
    }
  }
  return made;
}

function alongColumns(plane: Plane, wide: number, tall: number): Plane {
  const [a, b, c] = BINOMIAL;
  const made = new Float32Array(plane.length);
  for (let y = 0; y < tall; y++) {
    const rows = [-2, -1, 0, 1, 2].map((k) => Math.min(tall - 1, Math.max(0, y + k)) * wide) as [number, number, number, number, number];
    for (let x = 0; x < wide; x++) {
      const at = (k: 0 | 1 | 2 | 3 | 4): number => plane[rows[k] + x] as number;
      made[y * wide + x] = a * (at(0) + at(4)) + b * (at(1) + at(3)) + c * at(2);
    }
  }
  return made;
}

/** Of a picture that the page shows; null where it is not there yet, or its pixels cannot be had. */
export function shadesFrom(image: HTMLImageElement): Shades | null {
  if (!image.complete || !image.naturalWidth) return null;
  const scale = Math.max(1, Math.max(image.naturalWidth, image.naturalHeight) / LONGEST);
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [Math.round(image.naturalWidth / scale), Math.round(image.naturalHeight / scale)];
  const pen = canvas.getContext("2d", { willReadFrequently: true });
  if (!pen) return null;
  pen.imageSmoothingQuality = "high";
  pen.drawImage(image, 0, 0, canvas.width, canvas.height);
  try {
    return shadesOf(pen.getImageData(0, 0, canvas.width, canvas.height).data, canvas.width, canvas.height, scale);
  } catch {
    return null;
  }
}
