// The log on its bed, in parts that slide apart. Drawn only when something changed. The scene is the saw frame of the lie that is shown.

import {
  AmbientLight, Box3, CylinderGeometry, DirectionalLight, EdgesGeometry, Group, LineBasicMaterial, LineSegments, Matrix4, Mesh, type Object3D, PCFShadowMap, PerspectiveCamera, PlaneGeometry, Scene, ShadowMaterial, Vector3, WebGLRenderer,
} from "three";

import type { Placing, Solid, Spot, Vec } from "./figures.ts";
import { geometryOf, pieceGeometry } from "./geometry.ts";
import { type View, eye } from "./orbit.ts";
import { holderOf, shiftsOf, takenApart } from "./parts.ts";
import { ringTextures } from "./rings.ts";
import type { Step } from "./steps.ts";
import { LEAST_SPOT_M, woodMaterial } from "./wood.ts";

/** Gap between parts as a share of the log's thickness. */
const GAP = 0.11;
const SLIDE_MS = 450;
/** How far the corners of the room it takes reach; the log itself stays clear of them. */
const FILLED = 1;
/** Distance and size on the picture are not quite inverse: the near end grows faster. Steps this large settle. */
const SETTLING = 0.8;

export interface Label {
  part: number;
  /** in the element, from its left and top, 0..1; null: behind the log */
  at: [number, number] | null;
}

function matrixOf({ turn: [a, b, c], shift }: Placing): Matrix4 {
  return new Matrix4().set(a[0], a[1], a[2], shift[0], b[0], b[1], b[2], shift[1], c[0], c[1], c[2], shift[2], 0, 0, 0, 1);
}

export class LogScene {
  readonly renderer: WebGLRenderer;
  private readonly scene = new Scene();
  private readonly camera = new PerspectiveCamera(28, 1, 0.05, 60);
  private readonly log = new Group();
  private readonly parts: Mesh[];
  /** what is not yet cut, as one piece without kerfs: before the first cut, after the first ... */
  private readonly left: Mesh[];
  private readonly edged = new Map<number, Mesh>();
  /** where each stands before it slides, in the scene of each lie */
  private readonly boxes: Map<Object3D, Box3>[];
  private readonly middle: Vector3;
  private readonly radius: number;
  private readonly thick: number;
  private readonly ground: Mesh;
  private readonly sun = new DirectionalLight("#fff6e6", 2.3);
  private view: View = { round: 0, over: 0, far: 1 };
  private slide = 0;
  private step: Step = { made: 0, lie: 0, all: false, words: "" };
  private waiting = false;
  onDrawn: (labels: Label[]) => void = () => undefined;

  /** Throws where there is no WebGL. */
  constructor(private readonly solid: Solid, canvas: HTMLCanvasElement) {
    this.renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true });
    this.renderer.shadowMap.enabled = true;
    this.renderer.shadowMap.type = PCFShadowMap;
    const material = woodMaterial(ringTextures(solid.shape, solid.rings), solid.spots);
    const { parts, left } = takenApart(solid);
    this.parts = parts.map((part) => this.mesh(geometryOf(part, solid.shape), material));
    this.left = left.slice(0, -1).map((one) => this.mesh(geometryOf(one, solid.shape), material));
    this.makeEdged(material);
    for (const spot of solid.spots) this.outline(spot);
    this.scene.add(this.log, new AmbientLight("#fbf3e6", 1.4), this.sun, this.sun.target);
    this.boxes = solid.lies.map((placing) => this.laid(placing));
    this.lay(0);
    const whole = this.extent(true);
    this.middle = whole.getCenter(new Vector3());
    const size = whole.getSize(new Vector3());
    this.thick = Math.max(size.x, size.y);
    const furthest = Math.max(0, ...shiftsOf(solid, solid.cuts.length, GAP * this.thick).map((shift) => Math.hypot(...shift)));
    this.radius = size.length() / 2 + furthest * 0.45;
    this.ground = this.floor(whole);
    this.light();
  }

  private mesh(geometry: ReturnType<typeof geometryOf>, material: Mesh["material"]): Mesh {
    const mesh = new Mesh(geometry, material);
    mesh.castShadow = mesh.receiveShadow = true;
    this.log.add(mesh);
    return mesh;
  }

  /** A spot is seen through the wood, as a thin line, and moves with the part that holds it. */
  private outline(spot: Spot): void {
    const wide = Math.max(spot.radius_m, LEAST_SPOT_M);
    const round = new EdgesGeometry(new CylinderGeometry(wide, wide, spot.to_m - spot.from_m, 12).rotateX(Math.PI / 2), 1);
    round.translate(spot.x_m, spot.y_m, (spot.from_m + spot.to_m) / 2);
    const ink = new LineBasicMaterial({ color: "#1c1a17", depthTest: false, transparent: true, opacity: 0.7 });
    const holder = holderOf(this.solid, spot);
    for (const mesh of [this.parts[holder], this.edged.get(holder), ...this.left.slice(0, holder + 1)]) mesh?.add(new LineSegments(round, ink));
  }

  private makeEdged(material: Mesh["material"]): void {
    this.solid.parts.forEach((part, i) => {
      const piece = this.solid.pieces.find(({ name }) => name === part.name);
      const geometry = piece && piece.sawn_edges.some(Boolean) ? pieceGeometry(piece) : null;
      if (geometry) this.edged.set(i, this.mesh(geometry, material));
    });
    for (const mesh of this.edged.values()) mesh.visible = false;
  }

  private lay(lie: number): void {
    matrixOf(this.solid.lies[lie] as Placing).decompose(this.log.position, this.log.quaternion, this.log.scale);
    this.log.updateMatrixWorld(true);
  }

  private laid(placing: Placing): Map<Object3D, Box3> {
    matrixOf(placing).decompose(this.log.position, this.log.quaternion, this.log.scale);
    this.log.updateMatrixWorld(true);
    return new Map(this.log.children.map((mesh) => [mesh, new Box3().setFromObject(mesh, true)]));
  }

  /** What came off in an earlier lie has been carried away; at the end all of it is shown together. */
  private isThere(part: number): boolean {
    const { all, lie, made } = this.step;
    const last = this.solid.cuts.length;
    if (part >= made) return made >= last;
    return all || this.solid.cuts[part]?.lie === lie;
  }

  private floor(whole: Box3): Mesh {
    const floor = new Mesh(new PlaneGeometry(40, 40), new ShadowMaterial({ opacity: 0.16 }));
    floor.rotateX(-Math.PI / 2);
    floor.receiveShadow = true;
    floor.position.y = whole.min.y;
    this.scene.add(floor);
    return floor;
  }

  private light(): void {
    this.sun.position.copy(this.middle).add(new Vector3(-0.55, 1.5, -0.8).multiplyScalar(this.radius * 1.6));
    this.sun.target.position.copy(this.middle);
    this.sun.castShadow = true;
    this.sun.shadow.mapSize.set(2048, 2048);
    this.sun.shadow.bias = -0.0004;
    this.sun.shadow.normalBias = 0.015;
    this.sun.shadow.radius = 4;
    const reach = this.radius * 1.3;
    Object.assign(this.sun.shadow.camera, { left: -reach, right: reach, top: reach, bottom: -reach, near: 0.1, far: this.radius * 6 });
  }

  look(view: View): void {
    this.view = view;
    this.drawSoon();
  }

  /** Show the log in one of its states. */
  show(step: Step, atOnce: boolean): void {
    const { made, all } = (this.step = step);
    this.lay(step.lie);
    const goals = shiftsOf(this.solid, made, GAP * this.thick);
    this.parts.forEach((mesh, i) => (mesh.visible = this.isThere(i)));
    this.left.forEach((mesh, i) => (mesh.visible = i === made));
    this.edged.forEach((mesh, i) => {
      mesh.visible = all;
      if (all) (this.parts[i] as Mesh).visible = false;
    });
    const from = this.parts.map((part) => part.position.toArray() as Vec);
    const start = performance.now();
    const number = ++this.slide;
    const move = (now: number): void => {
      if (number !== this.slide) return;
      const t = atOnce ? 1 : Math.min(1, Math.max(0, (now - start) / SLIDE_MS));
      this.place(from, goals, t * t * (3 - 2 * t));
      if (t < 1) requestAnimationFrame(move);
    };
    move(start);
  }

  private place(from: readonly Vec[], to: readonly Vec[], t: number): void {
    this.parts.forEach((part, i) => {
      const [a, b] = [from[i] as Vec, to[i] as Vec];
      part.position.set(a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2]));
      this.edged.get(i)?.position.copy(part.position);
    });
    this.log.updateMatrixWorld(true);
    this.ground.position.y = Math.min(0, this.extent().min.y) - 0.002;
    this.drawSoon();
  }

  /** The room that all parts take that are shown, or simply all. */
  private extent(all = false): Box3 {
    const room = new Box3();
    for (const mesh of this.log.children) {
      const slid = mesh.position.clone().applyQuaternion(this.log.quaternion);
      if (all || mesh.visible) room.union((this.boxes[this.step.lie]?.get(mesh) as Box3).clone().translate(slid));
    }
    return room;
  }

  size(width: number, height: number): void {
    this.renderer.setPixelRatio(Math.min(2, devicePixelRatio));
    this.renderer.setSize(width, height, false);
    this.camera.aspect = width / height;
    this.drawSoon();
  }

  drawSoon(): void {
    if (this.waiting) return;
    this.waiting = true;
    requestAnimationFrame(() => {
      this.waiting = false;
      this.draw();
    });
  }

  private draw(): void {
    this.aim(this.extent());
    this.renderer.render(this.scene, this.camera);
    this.onDrawn(this.labels());
  }

  /** Look at the middle of a box from where all of it is just seen; then as much nearer or farther as was asked. */
  private aim(box: Box3): void {
    const middle = box.getCenter(new Vector3());
    const stand = (distance: number): void => {
      this.camera.position.fromArray(eye({ ...this.view, far: 1 }, distance)).add(middle);
      this.camera.lookAt(middle);
      this.camera.updateProjectionMatrix();
      this.camera.updateMatrixWorld(true);
    };
    let distance = 4 * box.getSize(new Vector3()).length();
    for (let i = 0; i < 6; i++) {
      stand(distance);
      distance *= 1 + SETTLING * (this.reach(box) / FILLED - 1);
    }
    stand(distance * this.view.far);
  }

  /** How far from the middle of the picture the corners of a box lie at most: 1 is its border. */
  private reach({ min, max }: Box3): number {
    let most = 0;
    for (let i = 0; i < 8; i++) {
      const corner = new Vector3(i & 1 ? max.x : min.x, i & 2 ? max.y : min.y, i & 4 ? max.z : min.z).project(this.camera);
      most = Math.max(most, Math.abs(corner.x), Math.abs(corner.y));
    }
    return most;
  }

  /** Where the name of each part belongs: on the end that is turned to the eye. */
  private labels(): Label[] {
    const butt = Math.cos((this.view.round * Math.PI) / 180) > 0;
    return this.parts.map((mesh, part) => {
      const carriedAway = part < this.step.made && !this.isThere(part);
      if (carriedAway) return { part, at: null };
      const shown = this.edged.get(part)?.visible ? (this.edged.get(part) as Mesh) : mesh;
      const box = shown.geometry.boundingBox as Box3;
      const end = new Vector3((box.min.x + box.max.x) / 2, (box.min.y + box.max.y) / 2, butt ? box.min.z : box.max.z);
      const at = shown.localToWorld(end).project(this.camera);
      return { part, at: at.z < 1 ? [(at.x + 1) / 2, (1 - at.y) / 2] : null };
    });
  }
}
