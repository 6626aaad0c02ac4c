// What memory a browser's processes take, and what of it is the program's. Linux only.
import { readFileSync, readdirSync } from 'node:fs';

/** Put into a page before its own scripts: keeps the program's memory where it can be asked for. */
export const WATCH = `
  const instantiate = WebAssembly.instantiateStreaming;
  WebAssembly.instantiateStreaming = async (...given) => {
    const made = await instantiate(...given);
    globalThis.programMemory = made.instance.exports.memory;
    return made;
  };`;
/** How large the program's memory is, MB: it never shrinks, so this is also the most it was. */
export const ASK = 'return (globalThis.programMemory?.buffer.byteLength ?? 0) / 1e6';

const numbers = (text) => Object.fromEntries(
  [...text.matchAll(/^(\w+):\s+(\d+) kB$/gm)].map(([, name, kb]) => [name, Number(kb) * 1.024e-3]),
);

/** All processes below one, with their sizes in MB. `resident` counts the browser's own program, which all its
    processes share, once for each; `own` is what would be free again if this one ended. */
export function processes(root) {
  const rows = [];
  for (const pid of readdirSync('/proc').filter((name) => /^\d+$/.test(name))) {
    try {
      const parent = readFileSync(`/proc/${pid}/stat`, 'utf8').replace(/^.*\) \S+ /, '').split(' ')[0];
      const args = readFileSync(`/proc/${pid}/cmdline`, 'utf8');
      const kind = /--type=([\w-]+)/.exec(args)?.[1] ?? 'browser';
      const sizes = numbers(readFileSync(`/proc/${pid}/smaps_rollup`, 'utf8'));
      rows.push({
        pid: Number(pid), parent: Number(parent), kind,
        resident: sizes.Rss ?? 0, own: (sizes.Private_Dirty ?? 0) + (sizes.Private_Clean ?? 0), share: sizes.Pss ?? 0,
      });
    } catch { /* It ended meanwhile. */ }
  }
  const below = new Set([root]);
  for (let grown = true; grown;) {
    grown = false;
    for (const row of rows) if (below.has(row.parent) && !below.has(row.pid)) { below.add(row.pid); grown = true; }
  }
  return rows.filter((row) => below.has(row.pid) && row.pid !== root);
}

/** The process of the page: the largest that shows pages. */
export const ofThePage = (root) => processes(root).filter((p) => p.kind === 'renderer')
  .sort((a, b) => b.resident - a.resident)[0] ?? { resident: 0, own: 0, share: 0 };

/** The process that draws. */
export const ofDrawing = (root) => processes(root).find((p) => p.kind === 'gpu-process') ?? { resident: 0, own: 0, share: 0 };
