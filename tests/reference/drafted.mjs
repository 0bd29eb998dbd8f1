// The drafted body of a part made of upright prisms, by mesh booleans: an implementation that shares
// nothing with the product's own, to check it against. Usage: node drafted.mjs FILE, or - for stdin.
//
// Input (millimetres, degrees):
//   { "half": "upper" | "lower", "parting": z, "draft_deg": a, "cone_facets": n,
//     "steps": [ { "op": "add" | "remove", "low": z, "high": z, "rings": [[[x, y], …], …] }, … ],
//     "mode": "levels" | "minkowski", "outer": bool, "mesh": bool, "repeat": n, "samples": [[x, y], …] }
// Steps act in order; the rings of a step bound its plan by the even-odd rule. Instead of steps, "solid":
//   { "vertices": [[x, y, z], …], "facets": [[a, b, c], …] } gives a closed mesh as it is; its mode is minkowski.
//
// The body is the Minkowski sum of the part beyond the parting with a cone, apex up, that reaches down to the
// parting: its upper surface is the least surface of at least that draft. The cone is a pyramid of n facets
// with its first corner on +x, inscribed in the true cone, so the sum is inside the true body; with "outer" the
// circumscribed pyramid is summed too, and the true volume lies between the two.
//
//   minkowski  the library's own sum of the part's whole mesh
//   levels     one convex hull for every edge of every horizontal slice: the same polyhedron for prisms, faster
//
// Output: volume_mm3, volume_outer_mm3?, part_volume_mm3, triangles, genus, seconds (best of "repeat", the sum
// alone), heights? (z of the surface over each sample, null outside), vertices?, facets? (single precision).

import { readFileSync } from 'node:fs';
import Module from 'manifold-3d';

// The library is one very long line: an uncaught error would print it whole.
process.on('uncaughtException', (error) => {
  process.stderr.write(`drafted.mjs: ${error.message}\n`);
  process.exit(1);
});

const input = JSON.parse(readFileSync(process.argv[2] === '-' ? 0 : process.argv[2], 'utf8'));
const library = await Module();
library.setup();
const { Manifold, CrossSection, Mesh } = library;

const sign = { upper: 1, lower: -1 }[input.half ?? 'upper'];
if (!sign) throw new Error(`half is "${input.half}"; it must be upper or lower`);
const parting = input.parting ?? 0;
const tan = Math.tan((input.draft_deg * Math.PI) / 180);
const facets = input.cone_facets ?? 64;

// Inside, w is the height beyond the parting in the direction of the draw.
const steps = (input.steps ?? []).map(({ op, low, high, rings }) => {
  if (op !== 'add' && op !== 'remove') throw new Error(`op is "${op}"; it must be add or remove`);
  const [from, to] = [sign * (low - parting), sign * (high - parting)].sort((a, b) => a - b);
  return { op, from, to, plan: new CrossSection(rings, 'EvenOdd') };
});

const circle = (radius) => Array.from({ length: facets }, (_, i) => {
  const angle = (2 * Math.PI * i) / facets;
  return [radius * Math.cos(angle), radius * Math.sin(angle)];
});

function solid() {
  const { vertices, facets: triangles } = input.solid;
  const order = sign > 0 ? [0, 1, 2] : [0, 2, 1]; // a mirrored body would be inside out
  const mesh = new Mesh({
    numProp: 3,
    vertProperties: Float32Array.from(vertices.flatMap(([x, y, z]) => [x, y, sign * (z - parting)])),
    triVerts: Uint32Array.from(triangles.flatMap((t) => order.map((k) => t[k]))),
  });
  return new Manifold(mesh).trimByPlane([0, 0, 1], 0);
}

function part() {
  if (input.solid) return solid();
  const nothing = Manifold.cube(1).subtract(Manifold.cube(1));
  return steps.reduce((body, { op, from, to, plan }) => {
    const prism = plan.extrude(to - from).translate([0, 0, from]);
    return op === 'add' ? body.add(prism) : body.subtract(prism);
  }, nothing).trimByPlane([0, 0, 1], 0);
}

/** The slices of the part between consecutive heights of its steps, each at the upper one. */
function slices() {
  const nothing = CrossSection.square(0);
  const heights = [...new Set(steps.flatMap((s) => [s.from, s.to]).filter((w) => w > 0))].sort((a, b) => a - b);
  return heights.map((top, i) => {
    const middle = (top + (i ? heights[i - 1] : 0)) / 2;
    const plan = steps.filter((s) => s.from < middle && middle < s.to).reduce(
      (region, s) => (s.op === 'add' ? region.add(s.plan) : region.subtract(s.plan)), nothing);
    return { top, plan };
  }).filter(({ plan }) => !plan.isEmpty());
}

function levelsSum(scale) {
  const pieces = [];
  for (const { top, plan } of slices()) {
    pieces.push(plan.extrude(top));
    const foot = circle(top * tan * scale);
    for (const ring of plan.toPolygons()) {
      ring.forEach((a, i) => {
        const ends = [a, ring[(i + 1) % ring.length]];
        pieces.push(Manifold.hull(ends.flatMap(([x, y]) => [[x, y, top], ...foot.map(([u, v]) => [x + u, y + v, 0])])));
      });
    }
  }
  return Manifold.union(pieces);
}

function minkowskiSum(scale) {
  const body = part();
  const height = body.boundingBox().max[2];
  const cone = Manifold.hull([[0, 0, 0], ...circle(height * tan * scale).map(([x, y]) => [x, y, -height])]);
  return body.minkowskiSum(cone).trimByPlane([0, 0, 1], 0);
}

const sum = { levels: levelsSum, minkowski: minkowskiSum }[input.mode ?? (input.solid ? 'minkowski' : 'levels')];
if (!sum) throw new Error(`mode is "${input.mode}"; it must be levels or minkowski`);

let [body, seconds] = [null, Infinity];
for (let i = 0; i < (input.repeat ?? 1); i++) {
  const start = performance.now();
  body = sum(1);
  const volume = body.volume(); // booleans are lazy: asking for a figure makes the library do the work
  seconds = Math.min(seconds, (performance.now() - start) / 1000);
  if (body.status() !== 'NoError' || !(volume > 0)) throw new Error(`the sum failed: ${body.status()}, volume ${volume}`);
}

const output = {
  volume_mm3: body.volume(),
  part_volume_mm3: part().volume(),
  triangles: body.numTri(),
  genus: body.genus(),
  seconds,
};
if (input.outer) output.volume_outer_mm3 = sum(1 / Math.cos(Math.PI / facets)).volume();

if (input.samples) {
  const over = body.boundingBox().max[2] + 1;
  output.heights = input.samples.map(([x, y]) => {
    const hits = body.rayCast([x, y, over], [x, y, -1]);
    return hits.length ? parting + sign * Math.max(...hits.map((h) => h.position[2])) : null;
  });
}

if (input.mesh) {
  const { vertProperties, triVerts, numProp } = body.getMesh();
  const order = sign > 0 ? [0, 1, 2] : [0, 2, 1]; // a mirrored body would be inside out
  output.vertices = Array.from({ length: vertProperties.length / numProp }, (_, i) => {
    const [x, y, w] = vertProperties.subarray(i * numProp, i * numProp + 3);
    return [x, y, parting + sign * w];
  });
  output.facets = Array.from({ length: triVerts.length / 3 }, (_, i) => order.map((k) => triVerts[3 * i + k]));
}

process.stdout.write(JSON.stringify(output));
