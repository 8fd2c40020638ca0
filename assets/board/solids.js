// The solids as the server tells them, made into meshes: one for each subject and link, with its parts by name.
// @ts-check
import { BufferAttribute, BufferGeometry, Mesh } from "./vendor/three.js";
import { face, light, line, lines } from "./ink.js";

/** @typedef {{ id: string, kind: string, points: [number, number], triangles: [number, number] }} Part */
/** @typedef {{ id: string, title: string, kind: string, link: number | null, parts: Part[], points: number[], triangles: number[], hard: number[],
 *   soft: number[], normals: number[] }} Told */
/** @typedef {{ revision: number, title: string, solids: number, meshes: (Told | { had: number })[], "left-out": string[], drivers: import("./drivers.js").Driver[],
 *   matrices: number[][], kinds: Record<string, number>, sheets: number[], worst: string | null,
 *   "worst-staying": string | null }} Head */

/** Faces and lines as they are, as what is looked through is drawn, and as what is chosen: heavier, in pencil. */
const PLAIN = { face: face(0), line: line(light.ink, 1.1) };
const THIN = { face: PLAIN.face, line: line(light.rule, 1) };
const CHOSEN = { face: face(1), line: line(light.pencil, 3) };

/** A subject's solids on one link. */
export class Body {
  /** @param {Told} told @param {ArrayBuffer} data @param {number} from where the numbers begin @param {Record<string, number>} kinds */
  constructor(told, data, from, kinds) {
    this.told = told;
    const floats = (/** @type {number[]} */ [at, n]) => new Float32Array(data, from + 4 * at, n);
    const whole = (/** @type {number[]} */ [at, n]) => new Uint32Array(data, from + 4 * at, n);
    const points = floats(told.points);
    const g = new BufferGeometry();
    g.setAttribute("position", new BufferAttribute(points, 3));
    g.setIndex(new BufferAttribute(whole(told.triangles), 1));
    const tone = new Float32Array(points.length / 3);
    // the lightness of its kind, as in the files, weakly: ink is for lines
    for (const p of told.parts) tone.fill((1 - (kinds[p.kind] ?? 255) / 255) * 0.22, p.points[0], p.points[0] + p.points[1]);
    g.setAttribute("tone", new BufferAttribute(tone, 1));
    g.computeBoundingSphere();
    this.face = new Mesh(g, PLAIN.face);
    this.face.userData = this;
    const [hard, soft, normals] = [whole(told.hard), whole(told.soft), floats(told.normals)];
    const n = (hard.length + soft.length) / 2;
    const [a, b, one, other] = [0, 1, 2, 3].map(() => new Float32Array(3 * n));
    for (let k = 0; k < n; k++) {
      const at = 2 * k;
      const [i, j] = at < hard.length ? [hard[at], hard[at + 1]] : [soft[at - hard.length], soft[at - hard.length + 1]];
      for (let c = 0; c < 3; c++) {
        a[3 * k + c] = points[3 * i + c];
        b[3 * k + c] = points[3 * j + c];
      }
    }
    for (let k = 0, at = (3 * hard.length) / 2; k < normals.length; k += 6, at += 3) {
      one.set(normals.subarray(k, k + 3), at);
      other.set(normals.subarray(k + 3, k + 6), at);
    }
    const l = lines(a, b, one, other);
    l.boundingSphere = g.boundingSphere;
    this.lines = new Mesh(l, PLAIN.line);
    for (const m of [this.face, this.lines]) {
      m.matrixAutoUpdate = false;
      m.name = told.id;
    }
  }

  /** @param {boolean} chosen @param {boolean} through whether it is looked through */
  look(chosen, through) {
    const look = chosen ? CHOSEN : through ? THIN : PLAIN;
    this.face.visible = !through;
    this.face.material = look.face;
    this.lines.material = look.line;
    this.lines.renderOrder = chosen ? 1 : 0;
  }

  /** The part that a triangle belongs to. @param {number} triangle */
  part(triangle) {
    return this.told.parts.find((p) => triangle >= p.triangles[0] && triangle < p.triangles[0] + p.triangles[1]);
  }

  dispose() {
    for (const m of [this.face, this.lines]) m.geometry.dispose();
  }
}

/** Asks for the solids as they are now: what is as it was at the revision of `old` keeps its meshes. The others are new.
 * @param {{ head: Head, bodies: Body[] } | null} old @returns {Promise<{ head: Head, bodies: Body[] }>} */
export async function solids(old) {
  const answer = await fetch(`made/behind/solids/${old?.head.revision ?? "-"}`);
  if (!answer.ok) throw new Error((await answer.text()).slice(0, 160));
  const data = await answer.arrayBuffer();
  const length = new DataView(data).getUint32(0, true);
  /** @type {Head} */
  const head = JSON.parse(new TextDecoder().decode(new Uint8Array(data, 4, length)));
  const bodies = head.meshes.map((m) => ("had" in m ? /** @type {Body[]} */ (old?.bodies)[m.had] : new Body(m, data, 4 + length, head.kinds)));
  return { head, bodies };
}
