// Solids as triangles for a graphics card. Round faces get the normals of a round, flat ones their own.

import { BufferGeometry, Float32BufferAttribute, ShapeUtils, Vector2 } from "three";

import { type Flat, type Piece, type Shape, type Vec, crossed } from "./figures.ts";
import { mixed, place } from "./rings.ts";
import { type Face, type Polyhedron, normalOf } from "./polyhedron.ts";

type Triangle = readonly [Vec, Vec, Vec];

class Triangles {
  private readonly places: number[] = [];
  private readonly normals: number[] = [];

  add([a, b, c]: Triangle, normal: (point: Vec) => Vec): void {
    for (const point of [a, b, c]) {
      this.places.push(...point);
      this.normals.push(...normal(point));
    }
  }

  geometry(): BufferGeometry {
    const made = new BufferGeometry();
    made.setAttribute("position", new Float32BufferAttribute(this.places, 3));
    made.setAttribute("normal", new Float32BufferAttribute(this.normals, 3));
    made.computeBoundingBox();
    return made;
  }
}

function unit([x, y, z]: Vec): Vec {
  const long = Math.hypot(x, y, z) || 1;
  return [x / long, y / long, z / long];
}

/** A flat face as triangles; corners on a straight line are no trouble. */
function split(points: readonly Vec[], face: Face, normal: Vec): Triangle[] {
  const { corners } = face;
  const at = (i: number): Vec => points[corners[i] as number] as Vec;
  if (corners.length === 3) return [[at(0), at(1), at(2)]];
  const [x, y, z] = normal.map(Math.abs) as [number, number, number];
  const [i, j] = x > y && x > z ? [1, 2] : y > z ? [2, 0] : [0, 1]; // the axes that lie flattest on the face
  const outline = corners.map((_, k) => new Vector2(at(k)[i], at(k)[j]));
  return ShapeUtils.triangulateShape(outline, []).map((three): Triangle => {
    const [a, b, c] = three.map((k) => at(k)) as [Vec, Vec, Vec];
    const turned = crossed([b[0] - a[0], b[1] - a[1], b[2] - a[2]], [c[0] - a[0], c[1] - a[1], c[2] - a[2]]);
    return turned[0] * normal[0] + turned[1] * normal[1] + turned[2] * normal[2] >= 0 ? [a, b, c] : [a, c, b];
  });
}

function middles(shape: Shape): (z: number) => Flat {
  const centre = shape.bark_m.map((round): Flat => [round.reduce((s, p) => s + p[0], 0) / round.length, round.reduce((s, p) => s + p[1], 0) / round.length]);
  return (z) => {
    const [i, t] = place(shape.z_m, z);
    return mixed(centre[i] as Flat, centre[i + 1] as Flat, t);
  };
}

export function geometryOf(solid: Polyhedron, shape: Shape): BufferGeometry {
  const middle = middles(shape);
  const triangles = new Triangles();
  const outwards = ([x, y, z]: Vec): Vec => unit([x - middle(z)[0], y - middle(z)[1], 0]);
  for (const face of solid.faces) {
    const normal = unit(normalOf(solid.points, face.corners));
    for (const triangle of split(solid.points, face, normal)) triangles.add(triangle, face.kind === "round" ? outwards : () => normal);
  }
  return triangles.geometry();
}

/** A piece after edging: six edges from end to end; where it has no wood on a face, that face ends in the mid-plane. */
export function pieceGeometry(piece: Piece): BufferGeometry | null {
  const stations = piece.low_m[1]?.length ?? 0;
  const rounds: Vec[][] = [];
  for (let i = 0; i < stations; i++) {
    const at = (edge: (Vec | null)[][], face: number): Vec | null => edge[face]?.[i] ?? edge[1]?.[i] ?? edge[0]?.[i] ?? edge[2]?.[i] ?? null;
    const round = [at(piece.low_m, 0), at(piece.high_m, 0), at(piece.high_m, 1), at(piece.high_m, 2), at(piece.low_m, 2), at(piece.low_m, 1)];
    if (round.every((point) => point !== null)) rounds.push(round as Vec[]);
  }
  if (rounds.length < 2) return null;
  const triangles = new Triangles();
  const flat = (a: Vec, b: Vec, c: Vec): void => {
    const normal = unit(crossed([b[0] - a[0], b[1] - a[1], b[2] - a[2]], [c[0] - a[0], c[1] - a[1], c[2] - a[2]]));
    triangles.add([a, b, c], () => normal);
  };
  for (let i = 0; i + 1 < rounds.length; i++)
    for (let k = 0; k < 6; k++) {
      const [a, b] = [(rounds[i] as Vec[])[k] as Vec, (rounds[i] as Vec[])[(k + 1) % 6] as Vec];
      const [c, d] = [(rounds[i + 1] as Vec[])[(k + 1) % 6] as Vec, (rounds[i + 1] as Vec[])[k] as Vec];
      flat(a, b, c);
      flat(a, c, d);
    }
  const [first, last] = [rounds[0] as Vec[], rounds.at(-1) as Vec[]];
  for (let k = 1; k + 1 < 6; k++) {
    flat(first[0] as Vec, first[k + 1] as Vec, first[k] as Vec);
    flat(last[0] as Vec, last[k] as Vec, last[k + 1] as Vec);
  }
  return triangles.geometry();
}
