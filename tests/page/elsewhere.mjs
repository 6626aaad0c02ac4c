// The page where browsers differ: a new version comes while a case is open, nothing may be kept, files are
// chosen and saved, a tab sleeps for an hour, a dense screen, a tablet, sound switched off.
//
//   node elsewhere.mjs FOLDER-OF-THE-PAGE FOLDER-FOR-PICTURES PROGRAM-OF-THE-INSTRUCTOR [PART…]
//
// Each part has a browser with an empty profile of its own.
import { execFileSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { open, serve, sleep } from './browser.mjs';
import { KEYS, check, hand, say, until } from './hand.mjs';
import { LISTEN, heard } from './sound.mjs';

const [folder, out, instructor, ...only] = process.argv.slice(2);
const place = mkdtempSync(join(tmpdir(), 'elsewhere-'));
const CASE = '?language=en&case=no-cold-air&seed=9';
/** A window's width and height. */
const USUAL = [1280, 720];
const lines = (kept) => kept[1].trim().split('\n');

/** Opens a case and starts the engine, which two actions do. */
async function atTheCar(me) {
  await me.opened(CASE);
  await me.listen();
  await me.press('Go to the car');
  await me.expect('Where: *');
  await me.thing('Ignition key');
  await me.press('Set to: start');
  await me.expect('Engine: running');
  await me.key('Escape');
}

/** A copy of the page that says it is another version. */
function renew(copy, number) {
  const change = (name, from, to) => {
    const text = readFileSync(join(copy, name), 'utf8');
    if (!from.test(text)) throw new Error(`${name} has no version`);
    writeFileSync(join(copy, name), text.replace(from, to));
  };
  change('version.js', /VERSION = '[^']*'/, `VERSION = '${number}'`);
  change('keep.js', /VERSION = '[^']*'/, `VERSION = '${number}'`);
}

const parts = {
  async update(browser, me, { copy }) {
    await atTheCar(me);
    const version = () => browser.run('return document.getElementById("version").textContent');
    const looked = () => browser.later('const done = arguments[0]; navigator.serviceWorker.getRegistration().then((r) => r.update()).then(done, done)');
    const offered = () => until('the offer', () => browser.run('const n = document.getElementById("news"); return !n.hidden && /new version/i.test(n.textContent)'));
    const choose = (label) => browser.run(`[...document.querySelectorAll('#news button')].find((b) => b.textContent === arguments[0]).click()`, label);
    await until('the page to be kept', () => browser.run('return navigator.serviceWorker.controller !== null'));
    const old = await version();
    renew(copy, '7.0.0');
    await looked();
    await offered();
    await me.picture('update');
    say('a new version while a case is open: told');
    await choose('Later');
    await me.thing('Blower');
    await me.press('Set to: 3');
    await me.key('Escape');
    const before = await me.kept();
    check(lines(before).length >= 4 && await version() === old, `the case goes on with the old one: ${lines(before).length - 1} actions`);
    await browser.go('about:blank');
    await sleep(1500);
    await me.opened(CASE);
    check(/7\.0\.0/.test(await version()), `the next visit has the new one: ${await version()}`);
    await me.listen();
    await me.expect('Where: *');
    const then = await me.kept();
    check(then[0] === before[0] && then[1].startsWith(before[1].trimEnd()), 'and the same attempt, nothing lost');

    renew(copy, '8.0.0');
    await looked();
    await offered();
    await me.thing('A/C switch');
    await me.press('Set to: on');
    await me.key('Escape');
    const last = await me.kept();
    await choose('Take the new version');
    await until('the new version', async () => /8\.0\.0/.test(await version().catch(() => '')));
    await me.there();
    await me.listen();
    await me.expect('Where: *');
    const now = await me.kept();
    check(now[0] === last[0] && now[1].startsWith(last[1].trimEnd()), `taken at once: version 8.0.0, ${lines(now).length - 1} actions, nothing lost`);
    await me.picture('updated');
  },

  async unkept(browser, me) {
    await atTheCar(me);
    await me.fillUp();
    await me.thing('Blower');
    await me.press('Set to: 3');
    await me.expect('*cannot be written to*');
    await me.press('Go on without saving');
    await me.expect('Blower: 3');
    await me.key('Escape');
    await me.thing('A/C switch');
    await me.press('Set to: on');
    await me.expect('A/C: on');
    const asks = await browser.run('const e = new Event("beforeunload", { cancelable: true }); return !dispatchEvent(e);');
    check(asks, 'no room, gone on all the same: leaving asks');
    await me.key('Escape');
    await me.menu();
    const text = readFileSync(await saved(browser, () => me.enter('Save as a file')), 'utf8');
    check(/"ac"/.test(text) && /"blower"/.test(text), `and the whole attempt is saved as a file: ${lines(['', text]).length - 1} actions`);
    check((await me.errors()).length === 0, 'console free of errors');
  },

  async forbidden(browser, me) {
    await me.opened(CASE);
    const throws = await browser.run('try { return typeof localStorage.length === "undefined"; } catch (error) { return error.name; }');
    check(throws === 'SecurityError', `this browser's storage throws: ${throws}`);
    await me.listen();
    await me.press('Go to the car');
    await me.expect('*keep anything*');
    await me.picture('forbidden');
    say('storage forbidden: told');
    await me.thing('Ignition key');
    await me.press('Set to: start');
    await me.expect('Engine: running');
    await me.menu();
    const file = await saved(browser, () => me.enter('Save as a file'));
    const text = readFileSync(file, 'utf8');
    check(/no-cold-air/.test(text) && /start/.test(text), `worked and saved as a file in the middle: ${lines(['', text]).length - 1} actions`);
    await me.press('Go on');
    await me.press('Work order');
    await me.press('Hand the car back');
    await me.press('Yes, hand it back');
    await me.expect('Handed back');
    const whole = readFileSync(await saved(browser, () => me.enter('Save as a file')), 'utf8');
    check(whole.startsWith(text.trimEnd()) && /hand_back|HandBack/.test(whole), 'and at the end');

    // The program stops in the middle of another attempt: the page still holds what was done.
    const asks = () => browser.run('const e = new Event("beforeunload", { cancelable: true }); return !dispatchEvent(e);');
    check(!await asks(), 'leaving asks nothing where all is saved');
    await me.press('Start again, same seed');
    await me.press('Go to the car');
    await me.thing('Ignition key');
    await me.press('Set to: start');
    await me.expect('Engine: running');
    check(await asks(), 'and asks where something is not');
    await browser.run('document.getElementById("car").getContext("webgl2").getExtension("WEBGL_lose_context").loseContext()');
    await until('the card', async () => /3D pictures/.test(await me.card()));
    await me.picture('forbidden-lost');
    const rest = readFileSync(await saved(browser, () => browser.run('document.querySelector("#do button").click()')), 'utf8');
    check(/no-cold-air/.test(rest) && /start/.test(rest) && !await asks(), `the program stopped: saved all the same, ${lines(['', rest]).length - 1} actions`);
  },

  async files(browser, me) {
    const work = join(place, 'work');
    mkdirSync(join(work, 'handed-in'), { recursive: true });
    const roster = join(work, 'class.csv');
    const assignment = join(work, 'week-3.assignment.json');
    writeFileSync(roster, 'id,name\nL07,Seven\nL08,Eight\n');
    const grade = (...args) => execFileSync(resolve(instructor), args, { encoding: 'utf8' });
    grade('assign', '--id', 'week-3', '--scenario', 'no-cold-air', '--roster', roster, '--due', '2099-03-01', '--out', assignment);
    await me.opened('?language=en');
    await me.listen();
    await browser.device('Page.setInterceptFileChooserDialog', { enabled: true });
    await browser.log('performance');
    await me.enter('Open an assignment file');
    const chooser = await until('the file chooser', async () => (await browser.log('performance'))
      .map((line) => JSON.parse(line.message).message).find((m) => m.method === 'Page.fileChooserOpened'));
    await browser.device('DOM.setFileInputFiles', { files: [assignment], backendNodeId: chooser.params.backendNodeId });
    await me.expect('Your id on the class list');
    await me.picture('assignment');
    say('an assignment chosen in the file chooser');
    await me.write('Your id on the class list', 'L07');
    await me.press('That is me');
    await me.press('Begin attempt 1 of *');
    await me.press('Go to the car');
    await me.thing('Ignition key');
    await me.press('Set to: start');
    await me.expect('Engine: running');
    await me.key('Escape');
    await me.press('Work order');
    await me.press('Hand the car back');
    await me.press('Yes, hand it back');
    await me.expect('Handed back');
    const file = await saved(browser, () => me.enter('Save as a file'));
    cpSync(file, join(work, 'handed-in', 'L07.jsonl'));
    grade('grade', join(work, 'handed-in'), '--assignment', assignment, '--out', join(work, 'report'));
    const [head, ...rows] = readFileSync(join(work, 'report', 'gradebook.csv'), 'utf8').trim().split(/\r?\n/);
    const row = rows.find((r) => r.startsWith('L07'));
    say(`saved as a file (${file.split('/').pop()}), and the instructor's program grades it:`);
    console.log(`            ${head}\n            ${row}`);
    check(/L07/.test(row) && rows.some((r) => r.startsWith('L08')), 'its row is there, beside that of the learner who handed in nothing');
  },

  async suspended(browser, me) {
    await browser.device('Page.addScriptToEvaluateOnNewDocument', {
      source: `
        globalThis.later = 0;
        const [now, today] = [performance.now.bind(performance), Date.now];
        performance.now = () => now() + later;
        Date.now = () => today() + later;
        document.addEventListener('resume', () => { later += 3_600_000; }, true);`,
    });
    await atTheCar(me);
    const before = await me.kept();
    const since = Date.now();
    // As it happens to a tab behind another: hidden, then put to sleep.
    const back = await browser.covered();
    await sleep(1000);
    await browser.device('Page.setWebLifecycleState', { state: 'frozen' });
    await sleep(3000);
    await browser.device('Page.setWebLifecycleState', { state: 'active' });
    await back();
    await sleep(1500);
    check(await browser.run('return later') === 3_600_000, 'the tab slept, and woke an hour later');
    await me.thing('Blower');
    await me.press('Set to: 3');
    const after = await me.kept();
    const waits = lines(after).slice(lines(before).length).join('').match(/"wait":\s*(\d+)/g) ?? [];
    const seconds = waits.reduce((sum, w) => sum + Number(w.match(/\d+/)[0]) / 10, 0);
    check(after[0] === before[0] && after[1].startsWith(before[1].trimEnd()), 'nothing lost');
    // The engine ran on while somebody looked, and for two minutes at most while nobody did.
    const looked = (Date.now() - since) / 1000 + 30;
    check(seconds > 0 && seconds <= looked + 120, `${seconds} s passed at the car, not an hour`);
    await me.picture('woken');
    const errors = await me.errors();
    check(errors.length === 0, `console free of errors ${JSON.stringify(errors.slice(0, 3))}`);
  },

  async dense(browser, me, { way }) {
    await me.opened(CASE);
    await me.listen();
    const [width, height] = way.size ?? USUAL;
    const sizes = () => browser.run('const c = document.getElementById("car"); return [c.width, c.height, c.clientWidth, c.clientHeight]');
    const right = (c) => c[0] === width * way.dense && c[1] === height * way.dense && c[2] === width && c[3] === height;
    await until('the canvas in the screen\'s own pixels', async () => right(await sizes()), 30).catch(() => {});
    const canvas = await sizes();
    check(right(canvas), `a screen ${way.dense} times as dense: ${canvas.join(' ')}`);
    // In a low window it lies below the slip's edge.
    await me.press('Go to the car');
    await me.expect('Where: *');
    await me.click('What is here');
    await me.click('Ignition key');
    await me.click('Set to: start');
    await me.expect('Engine: running');
    await sleep(1500);
    await me.picture(`dense-${way.dense}`);
    check(lines(await me.kept()).length > 1, 'presses land where they should');
  },

  async tablet(browser, me) {
    await browser.device('Emulation.setTouchEmulationEnabled', { enabled: true, maxTouchPoints: 5 });
    for (const [name, width, height] of [['lying', 1024, 768], ['upright', 768, 1024]]) {
      await browser.size(width, height, true);
      await browser.run('try { localStorage.clear(); } catch { /* the first page is empty */ }').catch(() => {});
      await me.opened('?language=en');
      await me.listen();
      await me.picture(`tablet-${name}-title`);
      await me.opened(CASE);
      await me.listen();
      await me.picture(`tablet-${name}-slip`);
      await me.tap('Go to the car');
      await me.expect('Where: *');
      await me.tap('What is here');
      await me.tap('Ignition key');
      await me.tap('Set to: start');
      await me.expect('Engine: running');
      await sleep(1000);
      await me.picture(`tablet-${name}-seat`);
      await me.tap('Set to: off');
      await me.expect('Engine: stopped');
      await me.key('Escape');
      await me.key('E');
      await me.expect('Where: Engine bay');
      await sleep(2500);
      // One finger turns the view and two bring it closer; the sign that leads to the fuse box lies where the box
      // does in the picture.
      const sign = () => browser.run('return [...document.getElementById("tree").children].find((e) => e.textContent.startsWith("Go to the fuse box"))?.dataset.at');
      const before = [await sign(), lines(await me.kept()).length];
      await me.picture(`tablet-${name}-bay`);
      const x = name === 'lying' ? 470 : 500;
      await browser.fingers([[{ x, y: 500 }, { x: x + 60, y: 510 }, { x: x + 120, y: 520 }]]);
      await sleep(2500);
      const turned = await sign();
      await browser.fingers([[{ x: x - 30, y: 500 }, { x: x - 60, y: 500 }, { x: x - 90, y: 500 }], [{ x: x + 30, y: 500 }, { x: x + 60, y: 500 }, { x: x + 90, y: 500 }]]);
      await sleep(2500);
      const closer = await sign();
      await me.picture(`tablet-${name}-closer`);
      check(turned !== before[0] && closer !== turned, `one finger turns, two come closer: ${[before[0], turned, closer].join('; ')}`);
      check(lines(await me.kept()).length === before[1], 'and neither touches anything');
      // A tap on the point that is lit up puts the lead of the tool in hand there.
      await me.key('T');
      await me.tap('Test light*');
      await me.tap('What is here');
      await me.tap('Battery: terminals');
      await sleep(3000);
      await me.picture(`tablet-${name}-battery`);
      const had = lines(await me.kept()).length;
      const lit = await browser.spot([250, 60, name === 'lying' ? 670 : 760, height - 60], [[242, 255], [236, 255], [100, 180]]);
      check(lit !== null, `the point is to be seen: ${JSON.stringify(lit)}`);
      await browser.fingers([[lit]]);
      await until('the point to be touched', async () => lines(await me.kept()).slice(had).join('').includes('bat:'));
      say(`a tap touches a point: ${lines(await me.kept()).pop()}`);
      await me.key('F');
      await sleep(2500);
      await me.picture(`tablet-${name}-box`);
      // Upright there is no room for the sheet beside the car.
      if (!await me.has('Call')) await me.tap('Job sheet*');
      await me.tap('Call');
      await me.tap('Show only');
      for (const key of 'f9') await browser.key(key);
      const written = () => browser.run('return [...document.getElementById("tree").children].find((e) => e.getAttribute("aria-label") === "Show only")?.value');
      await until('what was written', async () => await written() === 'f9');
      await browser.key(KEYS.Escape);
      await me.picture(`tablet-${name}-call`);
      await me.key('D');
      await sleep(1000);
      await me.picture(`tablet-${name}-diagram`);
      check(lines(await me.kept()).length > 2, `a tablet ${name}, by touch`);
    }
    // Turned round while a case is open.
    await browser.size(1024, 768, true);
    await sleep(1500);
    const canvas = await browser.run('const c = document.getElementById("car"); return [c.width, c.height]');
    check(canvas[0] === 1024 && canvas[1] === 768, `turned round: ${canvas.join(' ')}`);
    await me.picture('tablet-turned');
  },

  async quiet(browser, me) {
    await browser.device('Page.addScriptToEvaluateOnNewDocument', { source: LISTEN });
    const running = async () => (await heard(browser)).running;
    await me.opened('?language=en');
    await me.listen();
    await me.press('Settings');
    await me.press('Sound');
    await me.key('Tab');
    await browser.click(5, 5);
    await sleep(1000);
    const off = await heard(browser);
    check(off.contexts === 0 && off.pieces === 0, 'sound off before the first gesture: no output is opened');
    await atTheCar(me);
    await me.key('Tab');
    await sleep(2000);
    check((await heard(browser)).contexts === 0, 'nor beside a running engine');
    // On in the middle of the case, and off again.
    const toggle = async () => {
      await me.menu();
      await me.press('Settings');
      await me.press('Sound');
      await me.press('Back');
      await me.press('Go on');
    };
    await toggle();
    await me.key('Tab');
    await until('sound', async () => await running() && (await heard(browser)).loudest > 0.01);
    say('switched on: the engine is heard');
    await toggle();
    await until('the output to rest', async () => !await running());
    const then = (await heard(browser)).pieces;
    await me.key('Tab');
    await sleep(2000);
    const now = await heard(browser);
    check(!now.running && now.pieces === then, 'switched off: the output rests, and nothing more is given to it');
  },
};

/** What a browser saves when something is pressed. */
async function saved(browser, press) {
  const into = mkdtempSync(join(place, 'saved-'));
  await browser.device('Browser.setDownloadBehavior', { behavior: 'allow', downloadPath: into });
  await press();
  const done = () => readdirSync(into).find((name) => !name.endsWith('.crdownload') && !name.startsWith('.'));
  return join(into, await until('the file that was saved', done, 30));
}

// What the browser of a part is to be like; a part is done once for each.
const ways = {
  // As "block all cookies" does: storage throws.
  forbidden: [{ prefs: { profile: { default_content_setting_values: { cookies: 2 } } } }],
  // Three times as dense is a small screen's: of a large one a processor that draws takes minutes a picture.
  dense: [{ dense: 2 }, { dense: 3, size: [900, 560] }],
};

for (const name of only.length > 0 ? only : Object.keys(parts)) {
  for (const way of ways[name] ?? [{}]) {
    const copy = join(place, 'page');
    rmSync(copy, { recursive: true, force: true });
    cpSync(folder, copy, { recursive: true });
    const server = await serve(copy);
    const browser = await open(...(way.size ?? USUAL), way);
    const me = hand(browser, () => server.origin, out);
    try {
      say(`-- ${name}`);
      await parts[name](browser, me, { copy, way });
    } catch (error) {
      await me.failed(error);
      if (existsSync(join(out, 'failed.png'))) cpSync(join(out, 'failed.png'), join(out, `failed-${name}.png`));
    } finally {
      await browser.close();
      await server.stop().catch(() => {});
    }
  }
}
rmSync(place, { recursive: true, force: true });
