// The page in a headless browser, from an empty profile to the scorecard, with what may go wrong on
// the way.
//
//   node walk.mjs FOLDER-OF-THE-PAGE FOLDER-FOR-PICTURES
//
// Leaves pictures and the attempt (attempt.jsonl) in the second folder. The learner is the script that
// clears a case in the window: it presses by the names that a screen reader is given.
import { execSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { open, serve, sleep } from './browser.mjs';

const [folder, out] = process.argv.slice(2);
mkdirSync(out, { recursive: true });
const here = dirname(fileURLToPath(import.meta.url));
const KEYS = { Escape: '\uE00C', Tab: '\uE004', Enter: '\uE007', Space: ' ' };

let server = await serve(folder);
const browser = await open(1280, 720);
const started = Date.now();
const say = (words) => console.log(`${((Date.now() - started) / 1000).toFixed(1).padStart(7)} s  ${words}`);
const check = (right, words) => {
  if (!right) throw new Error(words);
  say(words);
};
const picture = (name) => browser.picture(join(out, `${name}.png`));
const card = () => browser.run('return document.getElementById("card").hidden ? "" : document.getElementById("card").innerText');

async function until(what, ask, seconds = 120) {
  const end = Date.now() + seconds * 1000;
  for (;;) {
    const answer = await ask();
    if (answer) return answer;
    if (Date.now() > end) throw new Error(`${what}: not within ${seconds} s`);
    await sleep(150);
  }
}

async function loaded(address) {
  const from = Date.now();
  await browser.go(`${server.origin}/${address}`);
  await until('the program is there', async () => (await card()) === '');
  return (Date.now() - from) / 1000;
}

async function listen() {
  await browser.run('document.getElementById("listen")?.click()');
  await until('the tree of names', () => browser.run('return document.getElementById("tree").childElementCount > 0'));
}

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
// What was pressed is drawn some frames later.
const breath = () => browser.later(`
  const done = arguments[0];
  let left = 8;
  const next = () => (left-- > 0 ? requestAnimationFrame(next) : setTimeout(done, 150));
  next();`);
// An arrow function sees the arguments of the script around it.
const press = async (name) => {
  const script = `const e = (() => {${find}})(); if (!e) return false; e.onclick ? e.click() : e.focus(); return true;`;
  await until(`"${name}" to press`, () => browser.run(script, name, true));
  await breath();
};
const expect = (name) => until(`"${name}"`, () => browser.run(`return Boolean((() => {${find}})());`, name, false));
const focusCanvas = () => browser.run('document.getElementById("car").focus()');

const kept = () => browser.run(`
  const key = Object.keys(localStorage).filter((k) => k.startsWith('tracebay/attempt/')).sort().pop();
  return key ? [key, localStorage.getItem(key)] : null;`);

async function play(steps, at = {}) {
  let field = '';
  for (const [i, step] of steps.entries()) {
    const [[what, value]] = Object.entries(step);
    if (what === 'press') { field = value; await press(value); }
    else if (what === 'expect') await expect(value);
    else if (what === 'wait') await sleep(value * 1000);
    else if (what === 'key') { await focusCanvas(); await browser.key(KEYS[value] ?? value.toLowerCase()); await breath(); }
    else if (what === 'write') {
      await browser.run('const e = [...document.getElementById("tree").children].find((e) => e.getAttribute("aria-label") === arguments[0]); e.value = arguments[1]; e.onchange();', field, value);
      await breath();
    } else throw new Error(`no such step: ${what}`);
    await at[i]?.();
  }
}

// The largest process that a page runs in, MB.
const resident = () => {
  const rows = execSync('ps -eo rss,args', { encoding: 'utf8' }).split('\n');
  const sizes = rows.filter((row) => row.includes('--type=renderer')).map((row) => Number.parseInt(row, 10) * 1.024e-3);
  return Math.max(0, ...sizes).toFixed(0);
};

const errors = async () => (await browser.log('browser')).filter((line) => line.level === 'SEVERE');

try {
  const first = await loaded('?language=en');
  check(first < 60, `first screen ${first.toFixed(1)} s after the page was opened (a processor draws)`);
  await picture('title');
  const early = await errors();
  check(early.length === 0, `console free of errors ${JSON.stringify(early.slice(0, 3))}`);

  await loaded('?language=en&case=none-such&seed=3');
  await listen();
  await expect('*none-such*');
  say('a link to no case says so');

  await loaded('?language=en&case=no-cold-air&seed=9');
  await listen();
  await picture('slip');
  const steps = readFileSync(join(here, '../../src/app/tests/clear_a_case.jsonl'), 'utf8').split('\n')
    .filter((line) => line && !line.startsWith('#')).map((line) => JSON.parse(line));
  const afterWord = (word) => steps.findIndex((s) => Object.values(s)[0] === word);
  await play(steps.slice(0, afterWord('A/C switch')), { 5: () => picture('seat') });
  const before = await kept();
  check(before[1].split('\n').length > 3, `kept so far: ${before[1].trim().split('\n').length - 1} actions`);

  // The page is closed and opened again in the middle of the case.
  const address = await browser.run('return location.search');
  check(/case=no-cold-air/.test(address) && /seed=9/.test(address), `the address leads back: ${address}`);
  await loaded(address);
  await listen();
  const again = await kept();
  check(again[0] === before[0] && again[1].startsWith(before[1].trimEnd()), 'opened again: the same attempt, nothing lost');

  // No room: the action is done, not shown, and kept once there is room.
  await expect('Where: *');
  await browser.run(`
    localStorage.setItem('filler', '');
    for (let size = 1 << 22; size >= 1; size >>= 1) {
      try { localStorage.setItem('filler', localStorage.getItem('filler') + 'x'.repeat(size)); } catch { /* full */ }
    }`);
  await press('What is here');
  await press('A/C switch');
  await press('Set to: on');
  await expect('*cannot be written to*');
  await picture('no-room');
  await browser.run('localStorage.removeItem("filler")');
  await press('Try again');
  await until('the action to be kept', async () => (await kept())[1].includes('"ac"'));
  say('no room: told, and kept once there was room');

  const rest = steps.slice(afterWord('A/C switch') + 2);
  const boxAt = rest.findIndex((s) => s.key === 'F') + 1;
  await play(rest, { [boxAt]: () => picture('box') });
  say(`the page's process takes ${resident()} MB before the scorecard`);
  await until('the scorecard', () => browser.run('return [...document.getElementById("tree").children].some((e) => /of 100/.test(e.textContent))'), 300);
  await sleep(1500);
  await picture('scorecard');
  say(`and ${resident()} MB with it`);
  const [key, attempt] = await kept();
  writeFileSync(join(out, 'attempt.jsonl'), attempt);
  check(/hand_back|HandBack/.test(attempt), `a case cleared in the page: ${attempt.trim().split('\n').length - 1} actions, ${key}`);

  const late = await errors();
  check(late.length === 0, `console still free of errors ${JSON.stringify(late.slice(0, 3))}`);

  // Two windows on one attempt.
  await loaded('?language=en&case=horn-silent&seed=2');
  await listen();
  await press('Go to the car');
  await browser.run(`
    const key = Object.keys(localStorage).filter((k) => k.startsWith('tracebay/attempt/')).sort().pop();
    localStorage.setItem(key, localStorage.getItem(key) + '{"elsewhere":1}\\n');`);
  await press('What is here');
  await press('Ignition key');
  await press('Set to: *');
  await expect('*another window*');
  await picture('two-windows');
  say('an attempt that goes on in another window: told');

  // A file that is no assignment.
  await loaded('?language=en');
  await listen();
  await browser.run(`dispatchEvent(new CustomEvent('tracebay-asked', { detail: { what: 'file', name: 'shopping.txt', text: 'milk, bread' } }))`);
  await expect('*shopping.txt*');
  await picture('no-assignment');
  say('a file that is no assignment: told');

  // Without a connection.
  await until('the page to be kept', () => browser.run('return navigator.serviceWorker.controller !== null || navigator.serviceWorker.getRegistration().then((r) => Boolean(r?.active))'));
  await server.stop();
  const offline = await loaded('?language=en&case=bench-relay&seed=1');
  say(`opened without a server in ${offline.toFixed(1)} s`);
  await listen();
  await press('Go to the car');
  await sleep(4000);
  await picture('bench');

  // By touch: a finger that turns the view changes nothing at the car.
  const lines = async () => (await kept())[1].trim().split('\n').length;
  const was = await lines();
  await browser.fingers([[{ x: 640, y: 360 }, { x: 700, y: 380 }, { x: 760, y: 400 }]]);
  await sleep(2500);
  await picture('turned');
  await browser.fingers([[{ x: 600, y: 360 }, { x: 560, y: 360 }], [{ x: 680, y: 360 }, { x: 720, y: 360 }]]);
  await sleep(2500);
  await picture('closer');
  check(await lines() === was, 'fingers turn and come closer, and touch nothing');

  say(`the page's process now takes ${resident()} MB`);
  const memory = await browser.device('Performance.enable', {}).then(() => browser.device('Performance.getMetrics', {}));
  const heap = memory.metrics.find((m) => m.name === 'JSHeapTotalSize')?.value ?? 0;
  say(`script heap ${(heap / 1e6).toFixed(0)} MB`);

  await browser.run('document.getElementById("car").getContext("webgl2").getExtension("WEBGL_lose_context").loseContext()');
  await until('the card', async () => /3D pictures/.test(await card()));
  await picture('lost');
  say('pictures taken away: told');

  const foreign = (await browser.log('performance'))
    .map((line) => JSON.parse(line.message).message)
    .filter((m) => m.method === 'Network.requestWillBeSent')
    .map((m) => m.params.request.url)
    .filter((url) => !url.startsWith(server.origin) && !/^(data|blob|chrome):/.test(url));
  check(foreign.length === 0, `no request to anyone else ${foreign.slice(0, 3)}`);
} catch (error) {
  await picture('failed').catch(() => {});
  console.log(await card().catch(() => ''));
  console.log((await errors().catch(() => [])).slice(0, 5));
  console.log(await browser.run('return [...document.getElementById("tree").children].map((e) => e.getAttribute("aria-label") ?? e.textContent).join(" | ")').catch(() => ''));
  console.error(`page: ${error.message}`);
  process.exitCode = 1;
} finally {
  await browser.close();
  await server.stop().catch(() => {});
}
