/** The shell in three dimensions: a few instanced meshes, drawn when something changed. */

import {
  AmbientLight, Color, DirectionalLight, type InstancedMesh, type LineSegments, type Mesh, PerspectiveCamera, Plane,
  Raycaster, Scene, Vector2, Vector3, WebGLRenderer,
} from "three";
import { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";
import type { Drawn } from "../kit";
import type { Tokens } from "./colours";
import * as make from "./meshes";
import { pick, type Picked, type Vec } from "./pick";
import { at, placed, type Arrow } from "./places";

export type Preset = "iso" | "plan" | "front" | "side";
export interface Look {
  colour: (strut: number) => string;
  hubColour: (hub: number) => string;
  bands: (strut: number) => string;
  shown: (kind: "strut" | "hub", index: number) => boolean;
  cover: boolean;
  openings: boolean;
  /** Movements of the hubs and how many times as large they are drawn. */
  moved: { by: Vec[]; times: number } | null;
  arrows: Arrow[];
  /** Straight lines besides, such as what is measured. */
  lines: [Vec, Vec][];
}

export class Stage {
  readonly camera = new PerspectiveCamera(28, 1, 0.05, 2000);
  private readonly scene = new Scene();
  private readonly renderer: WebGLRenderer;
  private readonly controls: OrbitControls;
  private meshes: (Mesh | InstancedMesh | LineSegments)[] = [];
  private drawn: Drawn | null = null;
  private look: Look | null = null;
  private places: Float64Array = new Float64Array(0);
  private asked = false;
  private size = 1;
  private cut = false;
  onRender: () => void = () => {};
  lastRebuild = 0;

  constructor(readonly canvas: HTMLCanvasElement, private tokens: Tokens) {
    this.renderer = new WebGLRenderer({ canvas, antialias: true, preserveDrawingBuffer: false });
    this.renderer.setPixelRatio(Math.min(window.devicePixelRatio, 2));
    this.camera.up.set(0, 0, 1);
    this.controls = new OrbitControls(this.camera, canvas);
    this.controls.enableDamping = false;
    this.controls.maxPolarAngle = Math.PI * 0.52;
    this.controls.addEventListener("change", () => this.draw());
    this.scene.add(new AmbientLight(0xffffff, 1.7));
    const light = new DirectionalLight(0xffffff, 1.6);
    light.position.set(-3, -5, 8);
    this.scene.add(light);
    this.setTokens(tokens);
  }

  setTokens(tokens: Tokens): void {
    this.tokens = tokens;
    this.renderer.setClearColor(new Color(tokens.paper));
    this.draw();
  }

  resize(): void {
    const { clientWidth: width, clientHeight: height } = this.canvas;
    if (!width || !height) return;
    this.renderer.setSize(width, height, false);
    this.camera.aspect = width / height;
    this.camera.updateProjectionMatrix();
    this.draw();
  }

  /** Put another shell on the stage; the view stays unless this is the first. */
  show(drawn: Drawn, look: Look): void {
    const first = this.drawn === null;
    this.drawn = drawn;
    this.look = look;
    this.size = Math.max(drawn.shell.width, drawn.shell.length, drawn.shell.rise * 1.4, 0.5);
    this.rebuild();
    if (first) this.preset("iso");
  }

  setLook(look: Look): void {
    this.look = look;
    this.rebuild();
  }

  /** Cut away the near half: nothing is hidden but by the plane y = 0. */
  section(on: boolean): void {
    this.cut = on;
    this.renderer.clippingPlanes = on ? [new Plane(new Vector3(0, 1, 0), 1e-3)] : [];
    this.draw();
  }

  preset(which: Preset): void {
    const rise = this.drawn?.shell.rise ?? 1;
    const wide = Math.min(this.camera.aspect, 1.3);
    const away = (this.size * 1.95) / Math.min(1, wide);
    const target = new Vector3(0, 0, rise * 0.38);
    const ways: Record<Preset, Vector3> = {
      iso: new Vector3(-0.55, -0.75, 0.42),
      plan: new Vector3(0, -0.0005, 1),
      front: new Vector3(0, -1, 0.02),
      side: new Vector3(1, 0, 0.02),
    };
    this.controls.target.copy(target);
    this.camera.position.copy(target).addScaledVector(ways[which].normalize(), away);
    this.controls.update();
    this.draw();
  }

  /** Turn or near the view from the keyboard. */
  turn(sideways: number, up: number, nearer: number): void {
    const out = this.camera.position.clone().sub(this.controls.target);
    out.applyAxisAngle(new Vector3(0, 0, 1), sideways);
    const across = new Vector3(0, 0, 1).cross(out).normalize();
    out.applyAxisAngle(across, up);
    out.multiplyScalar(nearer);
    this.camera.position.copy(this.controls.target).add(out);
    this.controls.update();
    this.draw();
  }

  /** Where a hub is drawn: moved, when the shape is. */
  hubAt(hub: number): Vec {
    return at(this.places, hub);
  }

  /** Whether a point stands in the half that is drawn. */
  isKept(point: Vec): boolean {
    return !this.cut || point[1] > -1e-3;
  }

  pickAt(x: number, y: number): Picked | null {
    if (!this.drawn || !this.look) return null;
    const box = this.canvas.getBoundingClientRect();
    const point = new Vector2(((x - box.left) / box.width) * 2 - 1, 1 - ((y - box.top) / box.height) * 2);
    const ray = new Raycaster();
    ray.setFromCamera(point, this.camera);
    const radius = this.drawn.diameter / 2;
    const slack = (Math.tan((this.camera.fov * Math.PI) / 360) * 2 * 5) / box.height;
    const { shown } = this.look;
    return pick(ray.ray.origin.toArray() as Vec, ray.ray.direction.toArray() as Vec, {
      places: this.places, struts: this.drawn.shell.struts, radius, hubRadius: radius * 1.9,
      shown: (kind, index) => shown(kind, index), kept: (point) => this.isKept(point),
    }, slack);
  }

  /** Where a point of the shell stands on the screen; null when it is behind or cut off. */
  project(at: Vec): { x: number; y: number } | null {
    if (!this.isKept(at)) return null;
    const point = new Vector3(...at).project(this.camera);
    if (point.z > 1 || Math.abs(point.x) > 1 || Math.abs(point.y) > 1) return null;
    return {
      x: ((point.x + 1) / 2) * this.canvas.clientWidth,
      y: ((1 - point.y) / 2) * this.canvas.clientHeight,
    };
  }

  get calls(): number {
    return this.renderer.info.render.calls;
  }

  draw(): void {
    if (this.asked) return;
    this.asked = true;
    requestAnimationFrame(() => {
      this.asked = false;
      this.renderer.render(this.scene, this.camera);
      this.onRender();
    });
  }

  private rebuild(): void {
    if (!this.drawn || !this.look) return;
    const begun = performance.now();
    for (const mesh of this.meshes) make.drop(this.scene, mesh);
    const { drawn, look, tokens } = this;
    this.places = placed(drawn.shell.hubs, look.moved?.by ?? null, look.moved?.times ?? 0);
    const all = { drawn, look, tokens, places: this.places, size: this.size };
    this.meshes = [make.struts(all), make.hubs(all), make.bands(all), make.skin(all), make.arrows(all), make.lines(all)].filter((one) => one !== null);
    this.scene.add(...this.meshes);
    this.lastRebuild = performance.now() - begun;
    this.draw();
  }
}
