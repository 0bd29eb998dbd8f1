// The union of closed meshes by mesh booleans, an implementation that shares nothing with the product's own. Usage: node union.mjs FILE, or - for stdin.
//
// Input: { "solids": [ { "vertices": [[x, y, z], …], "facets": [[a, b, c], …] }, … ] }, facing outward; taken in single precision.
// Output: volume_mm3 and pieces (bodies that hang together).

import { readFileSync } from 'node:fs';
import Module from 'manifold-3d';

// The library is one very long line: an uncaught error would print it whole.
process.on('uncaughtException', (error) => {
  process.stderr.write(`union.mjs: ${error.message}\n`);
  process.exit(1);
});

const input = JSON.parse(readFileSync(process.argv[2] === '-' ? 0 : process.argv[2], 'utf8'));
const library = await Module();
library.setup();
const { Manifold, Mesh } = library;

const body = Manifold.union(input.solids.map(({ vertices, facets }) => new Manifold(new Mesh({
  numProp: 3,
  vertProperties: Float32Array.from(vertices.flat()),
  triVerts: Uint32Array.from(facets.flat()),
}))));
if (body.status() !== 'NoError') throw new Error(`the union failed: ${body.status()}`);
process.stdout.write(JSON.stringify({ volume_mm3: body.volume(), pieces: body.decompose().length }));
