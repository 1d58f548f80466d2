// Follower: the shades of the photo that is shown, and what was followed on them, kept until another photo is shown. Places in the
// picture's own pixels.

import type { Point } from "../outline/geometry.ts";
import { type Followed, followed, nearEdge } from "./live_edge.ts";
import { type Shades, shadesFrom } from "./shades.ts";

const STRAIGHT: Followed = { points: [], clear: false };
/** A tap goes to the edge from so far at most, in pixels of the shades: a hundredth of the photo. */
const FARTHEST = 15;

export class Follower {
  private shades: Shades | null = null;
  private readonly known = new Map<string, Followed>();

  constructor(private readonly image: HTMLImageElement) {
    image.addEventListener("load", () => {
      this.shades = null;
      this.known.clear();
    });
  }

  /** The edge between two points. */
  readonly between = (from: Point, to: Point): Followed => {
    const key = `${from} ${to}`;
    const before = this.known.get(key);
    if (before) return before;
    const shades = this.seen();
    if (!shades) return STRAIGHT;
    const found = followed(shades, within(shades, from), within(shades, to));
    const made = { clear: found.clear, points: found.points.map((point) => ofPicture(shades, point)) };
    this.known.set(key, made);
    return made;
  };

  /** The same as far as it is known already; straight where it is not. */
  readonly knownBetween = (from: Point, to: Point): Followed => this.known.get(`${from} ${to}`) ?? { points: [], clear: true };

  /** A tap on the edge beside it. */
  onEdge(at: Point, reach: number): Point {
    const shades = this.seen();
    if (!shades) return at;
    const [from, far] = [within(shades, at), Math.min(FARTHEST, reach / shades.scale)];
    const found = nearEdge(shades, from, far);
    return found === from ? at : ofPicture(shades, found);
  }

  private seen(): Shades | null {
    return (this.shades ??= shadesFrom(this.image));
  }
}

/** The middle of a pixel has whole numbers, in both. */
function within({ scale }: Shades, [x, y]: Point): Point {
  return [(x + 0.5) / scale - 0.5, (y + 0.5) / scale - 0.5];
}

function ofPicture({ scale }: Shades, [x, y]: Point): Point {
  return [(x + 0.5) * scale - 0.5, (y + 0.5) * scale - 0.5];
}
