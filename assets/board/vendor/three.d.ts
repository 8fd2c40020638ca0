// The types of what the board uses of three.js, and no more.
export class Vector2 { constructor(x?: number, y?: number); x: number; y: number; set(x: number, y: number): this; }
export class Vector3 {
  constructor(x?: number, y?: number, z?: number);
  x: number; y: number; z: number;
  set(x: number, y: number, z: number): this;
  copy(v: Vector3): this; clone(): Vector3; add(v: Vector3): this; sub(v: Vector3): this;
  multiplyScalar(k: number): this; addScaledVector(v: Vector3, k: number): this;
  length(): number; project(camera: PerspectiveCamera): this; setFromMatrixColumn(m: Matrix4, k: number): this;
}
export class Matrix4 { elements: number[]; fromArray(a: ArrayLike<number>): this; makeTranslation(x: number, y: number, z: number): this; }
export class Sphere { constructor(centre?: Vector3, radius?: number); center: Vector3; radius: number; }
export class BufferAttribute { constructor(array: ArrayLike<number>, size: number, normalized?: boolean); count: number; }
export class InstancedBufferAttribute extends BufferAttribute {}
export class BufferGeometry {
  setAttribute(name: string, a: BufferAttribute): this;
  setIndex(a: BufferAttribute): this;
  boundingSphere: Sphere | null;
  computeBoundingSphere(): void;
  dispose(): void;
}
export class InstancedBufferGeometry extends BufferGeometry { instanceCount: number; }
export class ShaderMaterial {
  constructor(p: { uniforms?: Record<string, { value: unknown }>, vertexShader: string, fragmentShader: string, depthTest?: boolean,
    polygonOffset?: boolean, polygonOffsetFactor?: number, polygonOffsetUnits?: number, side?: number });
  uniforms: Record<string, { value: any }>;
}
export class Object3D {
  name: string; visible: boolean; matrixAutoUpdate: boolean; matrix: Matrix4; matrixWorld: Matrix4; position: Vector3; up: Vector3;
  renderOrder: number; userData: any; children: Object3D[]; frustumCulled: boolean; matrixWorldNeedsUpdate: boolean;
  add(...all: Object3D[]): this; remove(...all: Object3D[]): this; clear(): this; updateMatrixWorld(force?: boolean): void; lookAt(v: Vector3): void;
}
export class Group extends Object3D {}
export class Scene extends Object3D {}
export class Mesh extends Object3D { constructor(g: BufferGeometry, m: ShaderMaterial); geometry: BufferGeometry; material: ShaderMaterial; }
export class PerspectiveCamera extends Object3D {
  constructor(fov: number, aspect: number, near: number, far: number);
  fov: number; aspect: number; near: number; far: number; updateProjectionMatrix(): void;
}
export class Raycaster { setFromCamera(p: Vector2, c: PerspectiveCamera): void; intersectObjects(all: Object3D[], deep?: boolean): { object: Object3D, faceIndex?: number | null, distance: number }[]; }
export class WebGLRenderer {
  constructor(p: { canvas: HTMLCanvasElement, antialias?: boolean, alpha?: boolean, context?: WebGL2RenderingContext });
  setSize(w: number, h: number, style?: boolean): void; setPixelRatio(k: number): void; getPixelRatio(): number;
  setClearColor(c: number, a: number): void; render(s: Scene, c: PerspectiveCamera): void;
  info: { render: { calls: number, triangles: number } };
}
export class OrbitControls {
  constructor(c: PerspectiveCamera, e: HTMLElement);
  target: Vector3; zoomToCursor: boolean; minDistance: number; maxDistance: number;
  update(): boolean; addEventListener(kind: string, run: () => void): void;
}
