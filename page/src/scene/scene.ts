/** The shell in three dimensions: instanced struts, bands and hubs; drawn when something changed. */

import {
  AmbientLight, BufferAttribute, BufferGeometry, Color, CylinderGeometry, DirectionalLight, DoubleSide,
  InstancedMesh, Matrix4, Mesh, MeshLambertMaterial, PerspectiveCamera, Plane, Quaternion, Raycaster,
  Scene, SphereGeometry, Vector2, Vector3, WebGLRenderer,
} from "three";
import { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";
import type { Drawn } from "../kit";
import type { Tokens } from "./colours";
import { pick, type Picked, type Vec } from "./pick";

export type Preset = "iso" | "plan" | "front" | "side";
export interface Look {
  colour: (strut: number) => string;
  hubColour: (hub: number) => string;
  bands: (strut: number) => string;
  shown: (kind: "strut" | "hub", index: number) => boolean;
  cover: boolean;
}

const UP = new Vector3(0, 1, 0);
const NARROW = 0.45; // length of a band in diameters of its strut
const WIDE = 1.3;
const APART = 0.5;

export class Stage {
  readonly camera = new PerspectiveCamera(28, 1, 0.05, 2000);
  private readonly scene = new Scene();
  private readonly renderer: WebGLRenderer;
  private readonly controls: OrbitControls;
  private meshes: (Mesh | InstancedMesh)[] = [];
  private drawn: Drawn | null = null;
  private look: Look | null = null;
  private asked = false;
  private size = 1;
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
    this.renderer.clippingPlanes = on ? [new Plane(new Vector3(0, 1, 0), 0)] : [];
    this.draw();
  }

  preset(which: Preset): void {
    const rise = this.drawn?.shell.rise ?? 1;
    const wide = Math.min(this.camera.aspect, 1.3);
    const away = (this.size * 2.15) / Math.min(1, wide);
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

  pickAt(x: number, y: number): Picked | null {
    if (!this.drawn || !this.look) return null;
    const box = this.canvas.getBoundingClientRect();
    const point = new Vector2(((x - box.left) / box.width) * 2 - 1, 1 - ((y - box.top) / box.height) * 2);
    const ray = new Raycaster();
    ray.setFromCamera(point, this.camera);
    const radius = this.drawn.diameter / 2;
    const slack = (Math.tan((this.camera.fov * Math.PI) / 360) * 2 * 5) / box.height;
    return pick(ray.ray.origin.toArray() as Vec, ray.ray.direction.toArray() as Vec, {
      hubs: this.drawn.shell.hubs, struts: this.drawn.shell.struts, radius,
      hubRadius: radius * 1.9, shown: this.look.shown,
    }, slack);
  }

  /** Where a point of the shell stands on the screen; null when it is behind or cut off. */
  project(at: Vec): { x: number; y: number } | null {
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
    for (const mesh of this.meshes) {
      this.scene.remove(mesh);
      mesh.geometry.dispose();
      if (mesh instanceof InstancedMesh) mesh.dispose();
    }
    this.meshes = [this.struts(), this.hubs(), ...this.bands()];
    if (this.look.cover) this.meshes.push(this.cover());
    this.scene.add(...this.meshes);
    this.lastRebuild = performance.now() - begun;
    this.draw();
  }

  private struts(): InstancedMesh {
    const { shell, diameter } = this.drawn!;
    const look = this.look!;
    const shown = shell.struts.map((_, s) => s).filter((s) => look.shown("strut", s));
    const shape = new CylinderGeometry(diameter / 2, diameter / 2, 1, 10, 1);
    const mesh = new InstancedMesh(shape, new MeshLambertMaterial(), Math.max(shown.length, 1));
    mesh.count = shown.length;
    const colour = new Color();
    shown.forEach((s, k) => {
      mesh.setMatrixAt(k, this.along(s, 0.5, null));
      mesh.setColorAt(k, colour.set(look.colour(s)));
    });
    mesh.frustumCulled = false;
    return mesh;
  }

  private hubs(): InstancedMesh {
    const { shell, diameter } = this.drawn!;
    const look = this.look!;
    const shown = shell.hubs.map((_, n) => n).filter((n) => look.shown("hub", n));
    const shape = new SphereGeometry(diameter * 0.95, 14, 10);
    const mesh = new InstancedMesh(shape, new MeshLambertMaterial(), Math.max(shown.length, 1));
    mesh.count = shown.length;
    const colour = new Color();
    const matrix = new Matrix4();
    shown.forEach((n, k) => {
      mesh.setMatrixAt(k, matrix.setPosition(...(shell.hubs[n] ?? [0, 0, 0])));
      mesh.setColorAt(k, colour.set(look.hubColour(n)));
    });
    mesh.frustumCulled = false;
    return mesh;
  }

  private bands(): InstancedMesh[] {
    const { shell, diameter } = this.drawn!;
    const look = this.look!;
    const places: [number, number, number][] = [];
    shell.struts.forEach((_, s) => {
      const wide = look.shown("strut", s) ? [...look.bands(s)].map((one) => (one === "w" ? WIDE : NARROW)) : [];
      const span = this.span(s);
      let from = -(wide.reduce((sum, one) => sum + one, 0) + APART * (wide.length - 1)) / 2;
      for (const one of wide) {
        places.push([s, 0.5 + ((from + one / 2) * diameter) / span, one * diameter]);
        from += one + APART;
      }
    });
    if (!places.length) return [];
    const shape = new CylinderGeometry(diameter * 0.58, diameter * 0.58, 1, 10, 1);
    const material = new MeshLambertMaterial({ color: this.tokens.dark ? "#101416" : "#ffffff" });
    const mesh = new InstancedMesh(shape, material, places.length);
    places.forEach(([s, t, long], k) => mesh.setMatrixAt(k, this.along(s, t, long)));
    mesh.frustumCulled = false;
    return [mesh];
  }

  private cover(): Mesh {
    const { shell } = this.drawn!;
    const open = new Set(shell.openings.filter((o) => o.kind === "vent").flatMap((o) => o.faces));
    const corners = shell.faces.filter((_, f) => !open.has(f)).flatMap((face) => face.flatMap((n) => shell.hubs[n] ?? [0, 0, 0]));
    const shape = new BufferGeometry();
    shape.setAttribute("position", new BufferAttribute(new Float32Array(corners), 3));
    shape.computeVertexNormals();
    const material = new MeshLambertMaterial({
      color: this.tokens.dark ? "#b8c4c0" : "#8fa39b", transparent: true, opacity: 0.28, side: DoubleSide, depthWrite: false,
    });
    return new Mesh(shape, material);
  }

  private span(strut: number): number {
    const [a, b] = this.ends(strut);
    return a.distanceTo(b) || 1;
  }

  private ends(strut: number): [Vector3, Vector3] {
    const { shell } = this.drawn!;
    const [i, j] = shell.struts[strut] ?? [0, 0];
    return [new Vector3(...(shell.hubs[i] ?? [0, 0, 0])), new Vector3(...(shell.hubs[j] ?? [0, 0, 0]))];
  }

  /** The matrix of a cylinder along a strut: centred at share `t`, `long` or the whole strut. */
  private along(strut: number, t: number, long: number | null): Matrix4 {
    const [a, b] = this.ends(strut);
    const way = b.clone().sub(a);
    const span = way.length() || 1;
    const turned = new Quaternion().setFromUnitVectors(UP, way.divideScalar(span));
    const centre = a.addScaledVector(way, span * t);
    return new Matrix4().compose(centre, turned, new Vector3(1, long ?? span, 1));
  }
}
