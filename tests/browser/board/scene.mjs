// A photograph that is made here: a sheet with corner targets, round holes and one of four corners, under a camera that is
// known, with a little blur and noise. Truth in mm, pixels from the left and the top.
import { deflateSync } from "node:zlib";

/** Centres and radii of the round holes. */
export const HOLES = [[70, 80, 39.7], [200, 72, 28.55], [322, 96, 14.2]];
/** Targets. */
export const TARGETS = { T1: [12, 12], T2: [388, 12], T3: [386, 138], T4: [14, 138], T5: [134, 130], T6: [262, 18], T7: [262, 132] };
/** The corners of an opening. */
export const SLOT = [[290, 30], [350, 30], [350, 58], [290, 58]];
export const SIZE = [1400, 800];
/** A homography from mm to pixels: seen from below and from the left, turned a little. */
const H = [2.95, 0.16, 96, -0.22, -3.05, 640, 0.00032, -0.00055, 1];

/** Where a place of the panel shows. */
export const sees = ([x, y]) => {
  const w = H[6] * x + H[7] * y + H[8];
  return [(H[0] * x + H[1] * y + H[2]) / w, (H[3] * x + H[4] * y + H[5]) / w];
};

const inverse = (() => {
  const [a, b, c, d, e, f, g, h, i] = H;
  return [e * i - f * h, c * h - b * i, b * f - c * e, f * g - d * i, a * i - c * g, c * d - a * f, d * h - e * g, b * g - a * h, a * e - b * d];
})();
/** The place of the panel that shows at a place of the picture. */
export const lies = ([u, v]) => {
  const m = inverse;
  const w = m[6] * u + m[7] * v + m[8];
  return [(m[0] * u + m[1] * v + m[2]) / w, (m[3] * u + m[4] * v + m[5]) / w];
};

/** The grey of a place of the panel. */
function grey(x, y) {
  if (x < 0 || y < 0 || x > 400 || y > 150) return 70;
  for (const [cx, cy, r] of HOLES) if (Math.hypot(x - cx, y - cy) < r) return 34;
  if (x > 290 && x < 350 && y > 30 && y < 58) return 38;
  for (const [tx, ty] of Object.values(TARGETS)) {
    const [u, v] = [Math.abs(x - tx), Math.abs(y - ty)];
    if (Math.max(u, v) < 7) return Math.min(u, v) < 0.5 ? 15 : 240;
  }
  return 182;
}

/** The same noise at every run. */
function dice(seed) {
  let s = seed >>> 0;
  return () => ((s = (Math.imul(s, 1664525) + 1013904223) >>> 0), s / 2 ** 32);
}

const table = Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c >>> 0;
});

/** A PNG of grey bytes, row by row (the PNG specification, sections 5 and annex D). */
export function png(width, height, bytes) {
  const chunk = (name, data) => {
    const body = Buffer.concat([Buffer.from(name, "latin1"), data]);
    let c = 0xffffffff;
    for (const b of body) c = table[(c ^ b) & 255] ^ (c >>> 8);
    const ends = Buffer.alloc(8);
    ends.writeUInt32BE(data.length, 0);
    ends.writeUInt32BE((c ^ 0xffffffff) >>> 0, 4);
    return Buffer.concat([ends.subarray(0, 4), body, ends.subarray(4)]);
  };
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([8, 0, 0, 0, 0], 8);
  const rows = Buffer.alloc((width + 1) * height);
  for (let y = 0; y < height; y++) Buffer.from(bytes.buffer, y * width, width).copy(rows, y * (width + 1) + 1);
  return Buffer.concat([Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]), chunk("IHDR", head), chunk("IDAT", deflateSync(rows)), chunk("IEND", Buffer.alloc(0))]);
}

/** The photograph as a PNG. */
export function photograph() {
  const [w, h] = SIZE;
  const sharp = new Float64Array(w * h);
  for (let y = 0; y < h; y++) {
    for (let x = 0; x < w; x++) {
      let sum = 0;
      for (let k = 0; k < 9; k++) sum += grey(...lies([x + ((k % 3) + 0.5) / 3, y + (Math.floor(k / 3) + 0.5) / 3]));
      sharp[y * w + x] = sum / 9;
    }
  }
  // blurred twice by 1 2 1 each way, a standard deviation of one pixel
  let from = sharp;
  for (const by of [1, w, 1, w]) {
    const to = from.slice();
    for (let i = by; i < from.length - by; i++) to[i] = (from[i - by] + 2 * from[i] + from[i + by]) / 4;
    from = to;
  }
  const roll = dice(7);
  const bytes = new Uint8Array(w * h);
  for (let i = 0; i < bytes.length; i++) bytes[i] = Math.min(255, Math.max(0, Math.round(from[i] + 6 * (roll() + roll() + roll() - 1.5))));
  return png(w, h, bytes);
}
