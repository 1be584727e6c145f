// Times three-mesh-bvh on a binary STL file: node bvh.mjs NODE_MODULES FILE TURNS
// prints the seconds that each build took, one a line.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

const [modules, path, turns] = process.argv.slice(2);
const load = (file) => import(pathToFileURL(join(modules, file)).href);
const three = await load('three/build/three.module.js');
const { MeshBVH, CENTER } = await load('three-mesh-bvh/src/index.js');

const data = readFileSync(path);
const count = data.readUInt32LE(80);
const corners = new Float32Array(9 * count);
for (let i = 0; i < count; i++) {
  for (let k = 0; k < 9; k++) corners[9 * i + k] = data.readFloatLE(84 + 50 * i + 12 + 4 * k);
}
for (let turn = 0; turn < Number(turns); turn++) {
  const geometry = new three.BufferGeometry();
  geometry.setAttribute('position', new three.BufferAttribute(corners, 3));
  const start = process.hrtime.bigint();
  new MeshBVH(geometry, { strategy: CENTER });
  console.log(Number(process.hrtime.bigint() - start) * 1e-9);
}
