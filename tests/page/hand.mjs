// A hand at the page: opens it, presses by the names that a screen reader is given or by where things are
// drawn, and reads what the browser keeps. Knows no case.
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { sleep } from './browser.mjs';

export const KEYS = { Escape: '\uE00C', Tab: '\uE004', Enter: '\uE007', Space: ' ' };

// A name, or part of one with stars, as the window's script has them.
const find = `
  const [wanted, press] = arguments;
  const met = (name) => {
    const core = wanted.replace(/^\\*/, '').replace(/\\*$/, '');
    const [a, z] = [wanted.startsWith('*'), wanted.endsWith('*')];
    return a && z ? name.includes(core) : a ? name.endsWith(core) : z ? name.startsWith(core) : name === core;
  };
  const named = (e) => e.getAttribute('aria-label') ?? e.textContent;
  const fits = (e) => met(named(e)) || (!press && met(named(e).split(': ').slice(1).join(': ')));
  return [...document.getElementById('tree').children].find((e) => fits(e) && (!press || (e.onclick && !e.disabled) || e.onchange));
`;

export async function until(what, ask, seconds = 120) {
  const end = Date.now() + seconds * 1000;
  for (;;) {
    const answer = await ask();
    if (answer) return answer;
    if (Date.now() > end) throw new Error(`${what}: not within ${seconds} s`);
    await sleep(150);
  }
}

const started = Date.now();
export const say = (words) => console.log(`${((Date.now() - started) / 1000).toFixed(1).padStart(7)} s  ${words}`);
export const check = (right, words) => {
  if (!right) throw new Error(words);
  say(words);
};

/** The hand at a browser's window; `origin` is where the page is served, `out` where pictures go. */
export function hand(browser, origin, out) {
  mkdirSync(out, { recursive: true });
  const { run } = browser;
  const me = {
    picture: (name) => browser.picture(join(out, `${name}.png`)),
    card: () => run('return document.getElementById("card").hidden ? "" : document.getElementById("card").innerText'),
    there: () => until('the program is there', async () => (await me.card()) === ''),

    /** Opens an address of the page and waits for the program; seconds that took. */
    async opened(address) {
      const from = Date.now();
      await browser.go(`${origin()}/${address}`);
      await me.there();
      return (Date.now() - from) / 1000;
    },
    async listen() {
      await run('document.getElementById("listen")?.click()');
      await until('the tree of names', () => run('return document.getElementById("tree").childElementCount > 0'));
    },
    // What was pressed is drawn some frames later.
    breath: () => browser.later(`
      const done = arguments[0];
      let left = 8;
      const next = () => (left-- > 0 ? requestAnimationFrame(next) : setTimeout(done, 150));
      next();`),
    // An arrow function sees the arguments of the script around it.
    async press(name) {
      const script = `const e = (() => {${find}})(); if (!e) return false; e.onclick ? e.click() : e.focus(); return true;`;
      await until(`"${name}" to press`, () => run(script, name, true));
      await me.breath();
    },
    /** Turns to a thing by the list of what is here. */
    async thing(name) {
      if (!await me.has(name)) await me.press('What is here');
      await me.press(name);
    },
    /** Presses as a hand on the keyboard does, which a browser counts as a person's own doing. */
    async enter(name) {
      const script = `const e = (() => {${find}})(); if (!e) return false; e.focus(); return true;`;
      await until(`"${name}" to press`, () => run(script, name, true));
      await browser.key(KEYS.Enter);
      await me.breath();
    },
    expect: (name) => until(`"${name}"`, () => run(`return Boolean((() => {${find}})());`, name, false)),
    has: (name) => run(`return Boolean((() => {${find}})());`, name, false),
    /** Where a thing that can be pressed is drawn: its middle and size in the page's pixels. */
    async place(name) {
      const script = `const e = (() => {${find}})(); return e?.dataset.at ?? null;`;
      // A card that just came may still move.
      let last;
      const at = await until(`"${name}" and its place`, async () => {
        const now = await run(script, name, true);
        const stays = now !== null && now === last;
        last = now;
        if (!stays) await me.breath();
        return stays && now;
      });
      const [x, y, w, h] = at.split(' ').map(Number);
      return { x: Math.round(x + w / 2), y: Math.round(y + h / 2), w, h };
    },
    async click(name) {
      const { x, y } = await me.place(name);
      await browser.click(x, y);
      await me.breath();
    },
    async tap(name) {
      const { x, y } = await me.place(name);
      await browser.fingers([[{ x, y }]]);
      await me.breath();
    },
    /** Leaves the browser's storage no room for anything. */
    fillUp: () => run(`
      localStorage.setItem('filler', '');
      for (let size = 1 << 22; size >= 1; size >>= 1) {
        try { localStorage.setItem('filler', localStorage.getItem('filler') + 'x'.repeat(size)); } catch { /* full */ }
      }`),
    async key(value) {
      await run('document.getElementById("car").focus()');
      await browser.key(KEYS[value] ?? value.toLowerCase());
      await me.breath();
    },
    /** Escape turns away from a thing first, and opens the menu then; once more would close it. */
    async menu() {
      for (let tries = 0; tries < 2 && !await me.has('Paused'); tries++) {
        const before = (await me.names()).join('|');
        await me.key('Escape');
        await until('what Escape does', async () => (await me.names()).join('|') !== before);
      }
      await me.expect('Paused');
    },
    async write(field, text) {
      const there = 'const e = [...document.getElementById("tree").children].find((e) => e.getAttribute("aria-label") === arguments[0]);';
      await run(`${there} e.focus();`, field);
      await me.breath();
      await run(`${there} e.value = arguments[1]; e.onchange();`, field, text);
      await me.breath();
    },
    /** Steps as the window's scripts have them; `at` names what to do besides after some. */
    async play(steps, at = {}) {
      let field = '';
      for (const [i, step] of steps.entries()) {
        const [[what, value]] = Object.entries(step);
        if (what === 'press') { field = value; await me.press(value); }
        else if (what === 'expect') await me.expect(value);
        else if (what === 'wait') await sleep(value * 1000);
        else if (what === 'key') await me.key(value);
        else if (what === 'write') await me.write(field, value);
        else throw new Error(`no such step: ${what}`);
        await at[i]?.();
      }
    },
    names: () => run('return [...document.getElementById("tree").children].map((e) => e.getAttribute("aria-label") ?? e.textContent)'),
    /** Key and text of the attempt begun last. */
    kept: () => run(`
      const key = Object.keys(localStorage).filter((k) => k.startsWith('tracebay/attempt/')).sort().pop();
      return key ? [key, localStorage.getItem(key)] : null;`),
    errors: async () => (await browser.log('browser')).filter((line) => line.level === 'SEVERE'),
    /** What helps to see why something failed. */
    async failed(error) {
      await me.picture('failed').catch(() => {});
      console.log(await me.card().catch(() => ''));
      console.log((await me.errors().catch(() => [])).slice(0, 5));
      console.log((await me.names().catch(() => [])).join(' | '));
      console.error(`page: ${error.message}`);
      process.exitCode = 1;
    },
  };
  return me;
}
