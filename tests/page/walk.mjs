// The page in a headless browser, from an empty profile to the scorecard, with what may go wrong on
// the way.
//
//   node walk.mjs FOLDER-OF-THE-PAGE FOLDER-FOR-PICTURES
//
// Leaves pictures and the attempt (attempt.jsonl) in the second folder. The learner is the script that
// clears a case in the window: it presses by the names that a screen reader is given.
import { readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { open, serve, sleep } from './browser.mjs';
import { check, hand, say, until } from './hand.mjs';
import { ASK, WATCH, ofDrawing, ofThePage } from './memory.mjs';
import { LISTEN, heard } from './sound.mjs';

/** What the page's process should take at most, MB, the browser's own program included. */
const MOST_MB = 500;

const [folder, out] = process.argv.slice(2);
const here = dirname(fileURLToPath(import.meta.url));
const server = await serve(folder);
const browser = await open(1280, 720);
const me = hand(browser, () => server.origin, out);
for (const source of [WATCH, LISTEN]) await browser.device('Page.addScriptToEvaluateOnNewDocument', { source });

let most = 0;
async function memory(when) {
  const [page, drawing] = [ofThePage(browser.pid), ofDrawing(browser.pid)];
  most = Math.max(most, page.resident);
  say(`memory ${when}: the page's process ${page.resident.toFixed(0)} MB, ${page.own.toFixed(0)} of them its own; `
    + `the program's ${(await browser.run(ASK)).toFixed(0)} MB; the process that draws ${drawing.resident.toFixed(0)} MB`);
}

try {
  const first = await me.opened('?language=en');
  check(first < 60, `first screen ${first.toFixed(1)} s after the page was opened (a processor draws)`);
  await me.picture('title');
  await memory('on the first screen');
  const early = await me.errors();
  check(early.length === 0, `console free of errors ${JSON.stringify(early.slice(0, 3))}`);

  await me.opened('?language=en&case=none-such&seed=3');
  await me.listen();
  await me.expect('*none-such*');
  say('a link to no case says so');

  await me.opened('?language=en&case=no-cold-air&seed=9');
  await me.listen();
  await me.picture('slip');
  const steps = readFileSync(join(here, '../../src/app/tests/clear_a_case.jsonl'), 'utf8').split('\n')
    .filter((line) => line && !line.startsWith('#')).map((line) => JSON.parse(line));
  const afterWord = (word) => steps.findIndex((s) => Object.values(s)[0] === word);
  const running = afterWord('Engine: running');
  check((await heard(browser)).contexts === 0, 'nothing is let out before the first gesture');
  await me.play(steps.slice(0, afterWord('A/C switch')), {
    5: async () => {
      await me.picture('seat');
      await memory('at the car');
    },
    [running - 2]: async () => {
      // Captions go after some seconds; what was read out stays.
      const said = () => browser.run('return document.getElementById("said").textContent');
      await until('a caption', async () => /Sound: the engine starts/.test(await said()) || me.has('*Sound: the engine starts*'));
      say('what is heard when the engine starts stands there in words');
    },
    // Escape does not count as a person's own doing, which lets sound out; any other key does.
    [running + 1]: async () => {
      await me.key('Tab');
      await until('sound', async () => (await heard(browser)).loudest > 0.01);
      const now = await heard(browser);
      check(now.running && now.pieces > 2, `sound: the engine is heard after the first key (${now.pieces} pieces, loudest ${now.loudest.toFixed(2)})`);
    },
  });
  const before = await me.kept();
  check(before[1].split('\n').length > 3, `kept so far: ${before[1].trim().split('\n').length - 1} actions`);

  // The page is closed and opened again in the middle of the case.
  const address = await browser.run('return location.search');
  check(/case=no-cold-air/.test(address) && /seed=9/.test(address), `the address leads back: ${address}`);
  await me.opened(address);
  await me.listen();
  const again = await me.kept();
  check(again[0] === before[0] && again[1].startsWith(before[1].trimEnd()), 'opened again: the same attempt, nothing lost');

  // With nothing turned to, Escape opens the menu and closes it again.
  await me.expect('Where: *');
  await me.key('Escape');
  await me.expect('Paused');
  await me.picture('menu');
  await me.key('Escape');
  await until('the menu to be closed', async () => !await me.has('Paused'));
  say('Escape opens the menu, and closes it');

  // No room: the action is done, not shown, and kept once there is room.
  await me.expect('Where: *');
  await me.fillUp();
  await me.thing('A/C switch');
  await me.press('Set to: on');
  await me.expect('*cannot be written to*');
  await me.picture('no-room');
  await browser.run('localStorage.removeItem("filler")');
  await me.press('Try again');
  await until('the action to be kept', async () => (await me.kept())[1].includes('"ac"'));
  say('no room: told, and kept once there was room');

  const rest = steps.slice(afterWord('A/C switch') + 2);
  const boxAt = rest.findIndex((s) => s.key === 'F') + 1;
  await me.play(rest, { [boxAt]: () => me.picture('box') });
  await memory('before the scorecard');
  await until('the scorecard', () => browser.run('return [...document.getElementById("tree").children].some((e) => /of 100/.test(e.textContent))'), 300);
  await sleep(1500);
  await me.picture('scorecard');
  await memory('with the scorecard');
  const [key, attempt] = await me.kept();
  writeFileSync(join(out, 'attempt.jsonl'), attempt);
  check(/hand_back|HandBack/.test(attempt), `a case cleared in the page: ${attempt.trim().split('\n').length - 1} actions, ${key}`);

  const late = await me.errors();
  check(late.length === 0, `console still free of errors ${JSON.stringify(late.slice(0, 3))}`);

  // Two windows on one attempt.
  await me.opened('?language=en&case=horn-silent&seed=2');
  await me.listen();
  await me.press('Go to the car');
  await browser.run(`
    const key = Object.keys(localStorage).filter((k) => k.startsWith('tracebay/attempt/')).sort().pop();
    localStorage.setItem(key, localStorage.getItem(key) + '{"elsewhere":1}\\n');`);
  await me.thing('Ignition key');
  await me.press('Set to: *');
  await me.expect('*another window*');
  await me.picture('two-windows');
  say('an attempt that goes on in another window: told');

  // A file that is no assignment.
  await me.opened('?language=en');
  await me.listen();
  await browser.run(`dispatchEvent(new CustomEvent('tracebay-asked', { detail: { what: 'file', name: 'shopping.txt', text: 'milk, bread' } }))`);
  await me.expect('*shopping.txt*');
  await me.picture('no-assignment');
  say('a file that is no assignment: told');
  await memory('after six loads in one tab');

  // Without a connection.
  await until('the page to be kept', () => browser.run('return navigator.serviceWorker.controller !== null || navigator.serviceWorker.getRegistration().then((r) => Boolean(r?.active))'));
  await server.stop();
  const offline = await me.opened('?language=en&case=bench-relay&seed=1');
  say(`opened without a server in ${offline.toFixed(1)} s`);
  await me.listen();
  await me.press('Go to the car');
  await sleep(4000);
  await me.picture('bench');

  // By touch: a finger that turns the view changes nothing at the car.
  const lines = async () => (await me.kept())[1].trim().split('\n').length;
  const was = await lines();
  await browser.fingers([[{ x: 640, y: 360 }, { x: 700, y: 380 }, { x: 760, y: 400 }]]);
  await sleep(2500);
  await me.picture('turned');
  await browser.fingers([[{ x: 600, y: 360 }, { x: 560, y: 360 }], [{ x: 680, y: 360 }, { x: 720, y: 360 }]]);
  await sleep(2500);
  await me.picture('closer');
  check(await lines() === was, 'fingers turn and come closer, and touch nothing');

  await memory('after seven loads in one tab');
  // Told, not yet demanded: a page built quickly is larger, and takes more.
  say(`the page's process took ${most.toFixed(0)} MB at most, ${most <= MOST_MB ? 'within' : 'ABOVE'} the ${MOST_MB} MB it should`);

  await browser.run('document.getElementById("car").getContext("webgl2").getExtension("WEBGL_lose_context").loseContext()');
  await until('the card', async () => /3D pictures/.test(await me.card()));
  await me.picture('lost');
  say('pictures taken away: told');

  const foreign = (await browser.log('performance'))
    .map((line) => JSON.parse(line.message).message)
    .filter((m) => m.method === 'Network.requestWillBeSent')
    .map((m) => m.params.request.url)
    .filter((url) => !url.startsWith(server.origin) && !/^(data|blob|chrome):/.test(url));
  check(foreign.length === 0, `no request to anyone else ${foreign.slice(0, 3)}`);
} catch (error) {
  await me.failed(error);
} finally {
  await browser.close();
  await server.stop().catch(() => {});
}
