// The page around the program: fetches it with progress, says in a sentence what goes wrong, and does
// for it what needs the page's elements (choosing and handing out files, reading out, the address).
// Knows nothing of cars. The other end of the events is src/app/src/platform/browser/page.rs.
import { say } from './words.js';
import { BYTES, PROGRAM, VERSION, run } from './version.js';

const LARGEST = 16 * 1024 * 1024;
const at = (id) => document.getElementById(id);
const canvas = at('car');

function card(sentence, detail = '', again = false) {
  at('card').hidden = false;
  at('sentence').textContent = sentence;
  at('detail').textContent = detail;
  at('progress').hidden = true;
  at('do').replaceChildren();
  if (again) {
    const button = document.createElement('button');
    button.textContent = say.again;
    button.onclick = () => location.reload();
    at('do').append(button);
    button.focus();
  }
}

// Before anything is fetched: can this browser show it at all, and who would draw?
function drawnBy() {
  const gl = document.createElement('canvas').getContext('webgl2');
  if (!gl) return null;
  const names = gl.getExtension('WEBGL_debug_renderer_info');
  const name = gl.getParameter(names ? names.UNMASKED_RENDERER_WEBGL : gl.RENDERER);
  gl.getExtension('WEBGL_lose_context')?.loseContext();
  return /swiftshader|llvmpipe|software|basic render/i.test(name) ? 'processor' : 'card';
}

// A page that was left is kept whole by the browser for the way back, with all that its program took. It
// cannot be told no, but a message to such a page makes it let go; and what it held is swept up when
// much is asked for at once. That is never written to, and so takes nothing.
async function sweep() {
  try {
    const pages = new BroadcastChannel('tracebay');
    pages.onmessage = () => {};
    pages.postMessage('another page begins');
    // The letting go takes a moment of its own.
    for (let i = 0; i < 16; i++) {
      await new Promise((done) => { setTimeout(done, 120); });
      new ArrayBuffer(64 * 1024 * 1024);
    }
  } catch (error) {
    console.info(error.message);
  }
}

let whole = false;
async function fetched() {
  const answer = await fetch(PROGRAM);
  if (!answer.ok) throw new Error(`${answer.status} ${answer.statusText}`);
  let got = 0;
  const progress = at('progress');
  progress.hidden = false;
  const counted = answer.body.pipeThrough(new TransformStream({
    flush() { whole = true; },
    transform(part, out) {
      got += part.byteLength;
      progress.value = Math.min(1, got / BYTES);
      at('detail').textContent = `${(got / 1e6).toFixed(1)} / ${(BYTES / 1e6).toFixed(1)} MB`;
      out.enqueue(part);
    },
  }));
  return new Response(counted, { headers: { 'Content-Type': 'application/wasm' } });
}

let over = false;
let running = false;
// Files given before the program can hear of them.
const waiting = [];
function stop(sentence, detail) {
  if (over) return;
  over = true;
  card(sentence, detail, true);
  const last = unkept().pop();
  if (!last) return;
  const button = document.createElement('button');
  button.textContent = say.save;
  button.onclick = () => handOut(last[0].split('/').pop(), last[1]);
  at('do').prepend(button, ' ');
  button.focus();
}

// What the program could keep nowhere: it stays here as long as the page, also when the program has stopped.
const held = new Map();
const handedOut = new Set();
// Attempts, the latest last.
const unkept = () => [...held].filter(([key]) => key.startsWith('tracebay/attempt/'));
hear('hold', ({ key, text }) => {
  if (held.size === 0) addEventListener('beforeunload', leave);
  held.delete(key);
  if (text !== undefined) held.set(key, text);
});
// The browser asks before it lets go of actions that are in no file. A first line alone holds none.
function leave(event) {
  if (unkept().some(([, text]) => text.trim().includes('\n') && !handedOut.has(text))) event.preventDefault();
}

function handOut(name, text) {
  const link = document.createElement('a');
  const type = name.endsWith('.svg') ? 'image/svg+xml' : 'application/jsonl';
  link.href = URL.createObjectURL(new Blob([text], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  handedOut.add(text);
}

function hear(what, then) {
  addEventListener(`tracebay-${what}`, (event) => then(event.detail));
}

// What the panels' library takes for one with a keyboard on its screen (bevy_egui, text_agent.rs).
const WITHOUT_KEYS = /Android|iPhone|iPad|iPod|webOS|BlackBerry/;

hear('ready', () => {
  // After a finger it moves the focus to a field of its own, whose letters it hears nowhere else.
  const field = at('egui_text_agent');
  if (field && !WITHOUT_KEYS.test(navigator.userAgent)) field.disabled = true;
  at('card').hidden = true;
  at('listen').hidden = false;
  running = true;
  for (const file of waiting.splice(0)) give(file);
  canvas.focus();
});
hear('stopped', ({ sentence, detail }) => stop(sentence || (held.size > 0 ? say.stoppedUnkept : say.stopped), detail));
hear('read-out', ({ sentence }) => {
  const line = document.createElement('p');
  line.textContent = sentence;
  at('said').append(line);
  while (at('said').childElementCount > 30) at('said').firstElementChild.remove();
});
hear('choose-file', () => at('file').click());
hear('hand-out', ({ name, text }) => handOut(name, text));
hear('at-case', ({ scenario, seed }) => {
  const address = new URL(location.href);
  for (const name of ['case', 'seed']) address.searchParams.delete(name);
  if (scenario) {
    address.searchParams.set('case', scenario);
    address.searchParams.set('seed', seed);
  }
  history.replaceState(null, '', address);
});

function ask(what, detail = {}) {
  dispatchEvent(new CustomEvent('tracebay-asked', { detail: { what, ...detail } }));
}

// The panels' tree of names, for those who hear the page: made when it is asked for, since it costs
// every frame. Elements stay while their number does, so that the reader's place is not lost.
function heard(node, old) {
  const kinds = { button: 'button', field: 'input', heading: 'h2', text: 'p' };
  const made = old?.dataset.kind === node.kind ? old : document.createElement(kinds[node.kind]);
  made.dataset.kind = node.kind;
  made.dataset.id = node.id;
  // Where it is drawn, so that what magnifies or frames the element being read shows the right place.
  if (node.at) {
    made.dataset.at = node.at.join(' ');
    ['left', 'top', 'width', 'height'].forEach((side, i) => { made.style[side] = `${node.at[i]}px`; });
  }
  if (node.kind === 'field') {
    made.setAttribute('aria-label', node.name);
    if (document.activeElement !== made) made.value = node.value ?? '';
    // The program's own field must have the focus before it takes what is written.
    made.onfocus = () => ask('press', { id: node.id });
    made.onchange = () => ask('write', { id: node.id, text: made.value });
    return made;
  }
  const words = node.value ? `${node.name}: ${node.value}` : node.name;
  if (made.textContent !== words) made.textContent = words;
  if (node.kind === 'button') {
    made.disabled = node.off_limits;
    if (node.on === undefined) made.removeAttribute('aria-pressed');
    else made.setAttribute('aria-pressed', String(node.on));
    made.onclick = () => ask('press', { id: node.id });
  }
  return made;
}
hear('speaks', ({ language }) => {
  document.documentElement.lang = language;
});
hear('tree', ({ nodes }) => {
  const tree = at('tree');
  const here = document.activeElement;
  const old = new Map([...tree.children].map((element) => [element.dataset.id, element]));
  const told = JSON.parse(nodes);
  const now = told.map((node) => heard(node, old.get(node.id)));
  const lost = tree.contains(here) && !now.includes(here);
  for (const element of [...tree.children]) if (!now.includes(element)) element.remove();
  now.forEach((element, place) => {
    if (tree.children[place] !== element) tree.insertBefore(element, tree.children[place] ?? null);
  });
  // What was pressed may be gone: who hears the page goes on where the program is, not at the page's beginning.
  const next = now[told.findIndex((node) => node.focus)] ?? now[0];
  if (lost && next) {
    if (next.tabIndex < 0) next.tabIndex = -1;
    next.focus({ preventScroll: true });
  }
});
at('listen').textContent = say.listen;
at('listen').onclick = () => {
  ask('listen');
  at('listen').remove();
};

async function give(file) {
  if (!running) return void waiting.push(file);
  const detail = { name: file.name };
  try {
    if (file.size > LARGEST) throw new Error(say.tooLarge);
    detail.text = await file.text();
  } catch (error) {
    detail.why = error.message;
  }
  ask('file', detail);
}
at('file').addEventListener('change', (event) => {
  for (const file of event.target.files) give(file);
  event.target.value = '';
  canvas.focus();
});
addEventListener('dragover', (event) => event.preventDefault());
addEventListener('drop', (event) => {
  event.preventDefault();
  for (const file of event.dataTransfer.files) give(file);
});

canvas.addEventListener('webglcontextlost', () => stop(held.size > 0 ? say.contextLostUnkept : say.contextLost, ''));
canvas.addEventListener('contextmenu', (event) => event.preventDefault());
// The program takes every key it is given; these are the browser's own.
addEventListener('keydown', (event) => {
  const own = ['F5', 'F6', 'F11', 'F12'].includes(event.key)
    || ((event.ctrlKey || event.metaKey) && !['c', 'v', 'x', 'a', 'z'].includes(event.key.toLowerCase()));
  if (own) event.stopImmediatePropagation();
}, { capture: true });

async function keepForLater() {
  if (!('serviceWorker' in navigator)) return;
  try {
    const kept = await navigator.serviceWorker.register('keep.js');
    let taken = false;
    const offer = (worker) => {
      if (!worker || !navigator.serviceWorker.controller) return;
      const button = (label, then) => {
        const made = document.createElement('button');
        made.textContent = label;
        made.onclick = then;
        return made;
      };
      at('news').replaceChildren(
        `${say.news} `,
        button(say.take, () => {
          taken = true;
          // Another window may have taken it before.
          if (worker.state === 'activated') location.reload();
          else worker.postMessage('take over');
        }),
        ' ',
        button(say.later, () => { at('news').hidden = true; }),
      );
      at('news').hidden = false;
    };
    offer(kept.waiting);
    kept.addEventListener('updatefound', () => {
      const coming = kept.installing;
      coming.addEventListener('statechange', () => {
        if (coming.state === 'installed') offer(coming);
      });
    });
    const had = navigator.serviceWorker.controller;
    navigator.serviceWorker.addEventListener('controllerchange', () => {
      // A window in which somebody is at work goes on as it is until it is told there.
      if (had && taken) location.reload();
    });
  } catch (error) {
    // Without it the page works as long as there is a connection.
    console.info(error.message);
  }
}

async function start() {
  at('version').textContent = `${say.version} ${VERSION}`;
  if (typeof WebAssembly !== 'object') return card(say.noWasm);
  const by = drawnBy();
  if (!by) return card(say.noGraphics);
  document.documentElement.dataset.drawnBy = by;
  at('sentence').textContent = say.fetching;
  let program;
  try {
    sweep();
    program = await fetched();
  } catch (error) {
    return card(say.notFetched, error.message, true);
  }
  keepForLater();
  try {
    await run({ module_or_path: program });
  } catch (error) {
    // A connection that breaks off shows here, where the rest was to be read.
    if (!whole) return card(say.notFetched, error.message, true);
    return stop(say.stopped, error.message);
  }
  if (!running && !over) {
    at('sentence').textContent = say.starting;
    at('progress').hidden = true;
    at('detail').textContent = '';
  }
}

start();
