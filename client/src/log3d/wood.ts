// Wood as a material: matt, one tone, its rings drawn from the ring field wherever the surface happens to lie, so that a flat
// sawn face shows what it would show; bark where the surface lies outside the wood; hatching where metal or rot is cut.

import { Color, MeshLambertMaterial, Vector4 } from "three";

import type { Spot } from "./figures.ts";
import type { RingTextures } from "./rings.ts";

const WOOD = new Color("#e6d3b1");
const LATE = new Color("#b48a58");
const BARK = new Color("#75614d");
const INK = new Color("#1c1a17");
/** drawn rings: enough to read the grain, far fewer than a tree has years */
const DRAWN = 22;
const MOST_SPOTS = 12;
/** a spot is drawn no smaller than this [m], as on the flat drawings */
export const LEAST_SPOT_M = 0.008;

const HEAD = /* glsl */ `
varying vec3 vLog;
uniform float logLength;
uniform int piths;
uniform sampler2D pithLine, reach1, reach2, middleLine, woodReach;
uniform vec3 late, barkTone, ink;
uniform vec4 spotPlace[${MOST_SPOTS}];
uniform vec4 spotRange[${MOST_SPOTS}];

float row(float z) { return (clamp(z / logLength, 0.0, 1.0) * ${(64 - 1).toFixed(1)} + 0.5) / 64.0; }
float reachOf(sampler2D table, vec2 way, float z) {
  float wide = float(textureSize(table, 0).x);
  return texture2D(table, vec2(atan(way.y, way.x) / 6.28318530718 + 0.5 / wide, row(z))).r;
}
float ringShare(vec3 p) {
  vec4 pith = texture2D(pithLine, vec2(0.5, row(p.z)));
  vec2 one = p.xy - pith.xy, two = p.xy - pith.zw;
  float s = length(one) / reachOf(reach1, one, p.z);
  return piths > 1 ? min(s, length(two) / reachOf(reach2, two, p.z)) : s;
}
float outside(vec3 p) {
  vec2 way = p.xy - texture2D(middleLine, vec2(0.5, row(p.z))).xy;
  return length(way) - reachOf(woodReach, way, p.z);
}
float hatched(vec3 p) {
  float most = 0.0;
  for (int i = 0; i < ${MOST_SPOTS}; i++) {
    float away = max(distance(p.xy, spotPlace[i].xy) - spotPlace[i].z, max(spotRange[i].x - p.z, p.z - spotRange[i].y));
    most = max(most, spotPlace[i].z > 0.0 && away < 0.0005 ? 1.0 : 0.0);
  }
  return most;
}
`;

const TONE = /* glsl */ `
float turns = ringShare(vLog) * ${DRAWN.toFixed(1)};
float blur = fwidth(turns);
float part = fract(turns);
float line = smoothstep(0.25, 0.95, part) * (1.0 - smoothstep(0.97, 1.0, part));
diffuseColor.rgb = mix(diffuseColor.rgb, late, 0.75 * mix(line, 0.33, smoothstep(0.25, 0.8, blur)));
float off = outside(vLog);
diffuseColor.rgb = mix(diffuseColor.rgb, barkTone, smoothstep(0.0004, 0.0012, off));
float stripes = step(0.5, fract((vLog.x + vLog.y + vLog.z) / 0.006));
diffuseColor.rgb = mix(diffuseColor.rgb, ink, hatched(vLog) * (0.35 + 0.65 * stripes));
`;

function spotVectors(spots: readonly Spot[]): { place: Vector4[]; range: Vector4[] } {
  const shown = spots.slice(0, MOST_SPOTS);
  const filled = <T>(made: T[], none: () => T): T[] => [...made, ...Array.from({ length: MOST_SPOTS - made.length }, none)];
  const wide = (spot: Spot): number => Math.max(spot.radius_m, LEAST_SPOT_M);
  return {
    place: filled(shown.map((spot) => new Vector4(spot.x_m, spot.y_m, wide(spot), 0)), () => new Vector4()),
    range: filled(shown.map((spot) => new Vector4(spot.from_m, spot.to_m, 0, 0)), () => new Vector4()),
  };
}

export function woodMaterial(rings: RingTextures, spots: readonly Spot[]): MeshLambertMaterial {
  const material = new MeshLambertMaterial({ color: WOOD });
  const { place, range } = spotVectors(spots);
  material.onBeforeCompile = (shader) => {
    Object.assign(shader.uniforms, {
      logLength: { value: rings.length },
      piths: { value: rings.piths },
      pithLine: { value: rings.pith },
      reach1: { value: rings.reach[0] },
      reach2: { value: rings.reach[1] ?? rings.reach[0] },
      middleLine: { value: rings.middle },
      woodReach: { value: rings.wood },
      late: { value: LATE },
      barkTone: { value: BARK },
      ink: { value: INK },
      spotPlace: { value: place },
      spotRange: { value: range },
    });
    shader.vertexShader = "varying vec3 vLog;\n" + shader.vertexShader.replace("#include <begin_vertex>", "#include <begin_vertex>\nvLog = position;");
    shader.fragmentShader = HEAD + shader.fragmentShader.replace("#include <color_fragment>", `#include <color_fragment>\n${TONE}`);
  };
  return material;
}
