// Sessions played as WebAssembly are replayed by the program of this machine, and the other way
// round: each must come to the same, to the last bit.
//
//   node compare.mjs FOLDER-OF-WASM-BINDGEN NATIVE-PROGRAM [COUNT]
//
// FOLDER holds what `wasm-bindgen --target nodejs` made of tracebay-page-replay.
import { execFileSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { resolve } from 'node:path';

const [folder, program, count = '200'] = process.argv.slice(2);
const page = createRequire(import.meta.url)(resolve(folder, 'tracebay_page_replay.js'));
const native = (args, input) => execFileSync(program, args, { input, encoding: 'utf8', maxBuffer: 1 << 30 })
  .trim().split('\n');

const n = Number(count);
const there = native(['play', '0', count]).map((line) => JSON.parse(line));
const here = Array.from({ length: n }, (_, i) => page.played(i));
const replayedHere = there.map((attempt) => page.replayed(attempt));
const replayedThere = native(['replay'], here.map((a) => JSON.stringify(a)).join('\n') + '\n');

let wrong = 0;
let actions = 0;
for (let i = 0; i < n; i++) {
  actions += here[i].trim().split('\n').length - 1;
  if (here[i] !== there[i]) { wrong++; console.log(`session ${i}: played differently`); }
  if (replayedHere[i] !== replayedThere[i]) { wrong++; console.log(`session ${i}: ends differently`); }
  if (!/^[0-9a-f]{64}$/.test(replayedHere[i])) { wrong++; console.log(`session ${i}: ${replayedHere[i]}`); }
}
console.log(`${n} sessions, ${actions} actions, each played and replayed on both sides: ${wrong} differences`);

const minutes = 200;
page.minutes_pass(1);
const times = [];
for (let round = 0; round < 3; round++) {
  const start = performance.now();
  page.minutes_pass(minutes);
  times.push([performance.now() - start, Number(native(['time', String(minutes)])[0])]);
}
const lowest = (side) => Math.min(...times.map((t) => t[side])) / minutes;
const [slow, fast] = [lowest(0), lowest(1)];
console.log(`a simulated minute: ${slow.toFixed(2)} ms as WebAssembly, ${fast.toFixed(2)} ms here, ${(slow / fast).toFixed(2)} times`);
// A page built quickly is not built for speed.
const tooSlow = slow > 3 * fast && !process.env.TRACEBAY_PAGE_QUICK;
process.exit(wrong > 0 || tooSlow ? 1 : 0);
