// What the board uses of three.js; `tests/browser/vendor.mjs` bundles it into three.js beside this file.
export {
  BufferAttribute, BufferGeometry, Group, InstancedBufferAttribute, InstancedBufferGeometry, Matrix4, Mesh, PerspectiveCamera, Raycaster,
  Scene, ShaderMaterial, Sphere, Vector2, Vector3, WebGLRenderer,
} from "three";
export { OrbitControls } from "three/addons/controls/OrbitControls.js";
