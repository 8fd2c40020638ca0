// How solids are drawn: faces of paper with a little shade, and the lines of a drawing over them. A line is as wide as it is
// told in pixels; a line along a round surface is drawn only where that turns away from the eye.
// @ts-check
import { InstancedBufferAttribute, InstancedBufferGeometry, BufferAttribute, ShaderMaterial, Vector2, Vector3 } from "./vendor/three.js";

/** What all materials share. */
export const light = { paper: { value: new Vector3() }, ink: { value: new Vector3() }, pencil: { value: new Vector3() }, rule: { value: new Vector3() }, size: { value: new Vector2(1, 1) } };

const FACE = {
  vertexShader: `
    attribute float tone;
    varying float vTone;
    varying vec3 vAt;
    void main() {
      vTone = tone;
      vec4 at = modelViewMatrix * vec4(position, 1.0);
      vAt = at.xyz;
      gl_Position = projectionMatrix * at;
    }`,
  fragmentShader: `
    uniform vec3 paper;
    uniform vec3 ink;
    uniform vec3 pencil;
    uniform float chosen;
    varying float vTone;
    varying vec3 vAt;
    void main() {
      vec3 normal = normalize(cross(dFdx(vAt), dFdy(vAt)));
      float lit = 0.5 + 0.5 * dot(normal, normalize(vec3(0.35, 0.75, 0.6)));
      vec3 colour = mix(mix(paper, ink, vTone), pencil, chosen * 0.28);
      gl_FragColor = vec4(colour * (1.0 - 0.2 * (1.0 - lit)), 1.0);
    }`,
};

const LINE = {
  vertexShader: `
    attribute vec3 a;
    attribute vec3 b;
    attribute vec3 one;
    attribute vec3 other;
    uniform vec2 size;
    uniform float wide;
    void main() {
      vec4 va = modelViewMatrix * vec4(a, 1.0);
      vec4 vb = modelViewMatrix * vec4(b, 1.0);
      bool seen = true;
      if (dot(one, one) > 0.0) {
        vec3 eye = -va.xyz;
        seen = (dot(normalMatrix * one, eye) > 0.0) != (dot(normalMatrix * other, eye) > 0.0);
      }
      // what reaches behind the eye is cut off before it
      float near = -1.0;
      if (va.z > near && vb.z > near) seen = false;
      else if (va.z > near) va = mix(va, vb, (near - va.z) / (vb.z - va.z));
      else if (vb.z > near) vb = mix(vb, va, (near - vb.z) / (va.z - vb.z));
      vec4 pa = projectionMatrix * va;
      vec4 pb = projectionMatrix * vb;
      vec2 along = (pb.xy / pb.w - pa.xy / pa.w) * size;
      along = dot(along, along) > 1e-8 ? normalize(along) : vec2(1.0, 0.0);
      vec4 at = mix(pa, pb, position.x);
      vec2 off = (vec2(-along.y, along.x) * position.y + along * (position.x - 0.5)) * wide;
      at.xy += off / size * at.w;
      gl_Position = seen ? at : vec4(2.0, 2.0, 2.0, 1.0);
    }`,
  fragmentShader: `
    uniform vec3 colour;
    void main() { gl_FragColor = vec4(colour, 1.0); }`,
};

/** @param {number} chosen */
export const face = (chosen) => new ShaderMaterial({
  ...FACE, uniforms: { ...light, chosen: { value: chosen } }, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 2,
});

/** @param {{ value: Vector3 }} colour @param {number} wide pixels @param {boolean} [over] in front of everything */
export const line = (colour, wide, over = false) => new ShaderMaterial({
  ...LINE, uniforms: { size: light.size, colour, wide: { value: wide } }, depthTest: !over,
});

const ENDS = new BufferAttribute(new Float32Array([0, -1, 0, 0, 1, 0, 1, -1, 0, 1, 1, 0]), 3);
const TWO = new BufferAttribute(new Uint16Array([0, 2, 1, 2, 3, 1]), 1);

/** Lines from pairs of points, with the normals on both sides of each; zero: always drawn.
 * @param {Float32Array} a @param {Float32Array} b @param {Float32Array} one @param {Float32Array} other */
export function lines(a, b, one, other) {
  const g = new InstancedBufferGeometry();
  g.setAttribute("position", ENDS);
  g.setIndex(TWO);
  for (const [name, list] of Object.entries({ a, b, one, other })) g.setAttribute(name, new InstancedBufferAttribute(list, 3));
  g.instanceCount = a.length / 3;
  return g;
}

/** Lines that are always drawn. @param {number[][]} pairs two points each */
export function plain(pairs) {
  const a = new Float32Array(pairs.flatMap((p) => p.slice(0, 3)));
  const b = new Float32Array(pairs.flatMap((p) => p.slice(3, 6)));
  return lines(a, b, new Float32Array(a.length), new Float32Array(a.length));
}

/** Takes the colours of the page's paper. */
export function mix() {
  const style = getComputedStyle(document.documentElement);
  for (const key of /** @type {const} */ (["paper", "ink", "pencil", "rule"])) {
    const hex = style.getPropertyValue(`--${key}`).trim();
    light[key].value.set(...(/** @type {[number, number, number]} */ ([1, 3, 5].map((k) => parseInt(hex.slice(k, k + 2), 16) / 255))));
  }
}
