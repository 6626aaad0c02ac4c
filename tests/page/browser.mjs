// A headless browser driven by the W3C WebDriver protocol, and a server of plain files. Knows nothing
// of the page.
import { spawn } from 'node:child_process';
import { createServer } from 'node:http';
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { extname, join, normalize } from 'node:path';

export const sleep = (ms) => new Promise((done) => setTimeout(done, ms));

const TYPES = {
  '.html': 'text/html', '.js': 'text/javascript', '.css': 'text/css', '.wasm': 'application/wasm',
};

/** Serves a folder as any plain server would; says what was asked for. */
export async function serve(folder) {
  const asked = [];
  const server = createServer((request, answer) => {
    const path = normalize(decodeURIComponent(new URL(request.url, 'http://x').pathname));
    asked.push(path);
    const file = join(folder, path.endsWith('/') ? `${path}index.html` : path);
    try {
      if (!statSync(file).isFile()) throw new Error('no file');
      answer.writeHead(200, { 'Content-Type': TYPES[extname(file)] ?? 'application/octet-stream' });
      answer.end(readFileSync(file));
    } catch {
      answer.writeHead(404).end();
    }
  });
  await new Promise((done) => server.listen(0, '127.0.0.1', done));
  return {
    asked,
    origin: `http://127.0.0.1:${server.address().port}`,
    stop: () => new Promise((done) => { server.closeAllConnections(); server.close(done); }),
  };
}

/** Starts chromedriver and one window of this size. `more` is for the browser's command line; `prefs` are
    its settings; `dense` is how many pixels its screen has for one of the page's. That is said on the command
    line: what is emulated in a running browser gives pages their size in the screen's own pixels wrongly
    (`devicePixelContentBoxSize` stays what it was before, Chromium 156). */
export async function open(width, height, { more = [], prefs = {}, dense = 1 } = {}) {
  const port = 9500 + Math.floor(Math.random() * 400);
  const driver = spawn('chromedriver', [`--port=${port}`], { stdio: 'ignore' });
  const profile = mkdtempSync(join(tmpdir(), 'page-'));
  const wire = async (method, path, body) => {
    const answer = await fetch(`http://127.0.0.1:${port}${path}`, {
      method, body: body === undefined ? undefined : JSON.stringify(body),
    });
    const { value } = await answer.json();
    if (!answer.ok) throw new Error(`${path}: ${value.error}: ${value.message.split('\n')[0]}`);
    return value;
  };
  for (let tries = 0; ; tries++) {
    try { await wire('GET', '/status'); break; } catch (error) {
      if (tries > 50) throw error;
      await sleep(100);
    }
  }
  const { sessionId } = await wire('POST', '/session', {
    capabilities: {
      alwaysMatch: {
        browserName: 'chrome',
        'goog:loggingPrefs': { browser: 'ALL', performance: 'ALL' },
        'goog:chromeOptions': {
          binary: '/usr/bin/chromium',
          args: [
            '--headless=new', '--no-sandbox', '--use-angle=swiftshader', '--enable-unsafe-swiftshader',
            '--ignore-gpu-blocklist', '--disable-background-networking', '--disable-component-update',
            '--disable-sync', '--no-first-run', '--disable-quic', '--hide-scrollbars',
            `--window-size=${width},${height}`, `--user-data-dir=${profile}`,
            `--force-device-scale-factor=${dense}`, ...more,
          ],
          prefs,
        },
      },
    },
  });
  const at = `/session/${sessionId}`;
  await wire('POST', `${at}/timeouts`, { script: 600_000, pageLoad: 600_000 });
  const device = (cmd, params) => wire('POST', `${at}/goog/cdp/execute`, { cmd, params });
  // The window's own frame takes part of its size.
  const size = (w, h, mobile = false) => device(
    'Emulation.setDeviceMetricsOverride',
    { width: w, height: h, deviceScaleFactor: 0, mobile },
  );
  await size(width, height);
  const act = (actions) => wire('POST', `${at}/actions`, { actions });
  return {
    pid: driver.pid,
    profile,
    go: (url) => wire('POST', `${at}/url`, { url }),
    run: (script, ...args) => wire('POST', `${at}/execute/sync`, { script, args }),
    later: (script, ...args) => wire('POST', `${at}/execute/async`, { script, args }),
    picture: async (file) => writeFileSync(file, Buffer.from(await wire('GET', `${at}/screenshot`), 'base64')),
    /** Middle of what has a colour in the picture between two corners, in the page's pixels, and how many pixels
        it is; `colour` is [red, green, blue], each from and to. */
    spot: async (corners, colour) => wire('POST', `${at}/execute/async`, {
      script: `
        const [picture, [x0, y0, x1, y1], ranges, done] = arguments;
        const image = new Image();
        image.onload = () => {
          const k = image.width / innerWidth;
          const plane = new OffscreenCanvas(image.width, image.height).getContext('2d');
          plane.drawImage(image, 0, 0);
          const { data, width } = plane.getImageData(0, 0, image.width, image.height);
          const found = [0, 0, 0];
          for (let y = Math.round(y0 * k); y < y1 * k; y++) for (let x = Math.round(x0 * k); x < x1 * k; x++) {
            const i = 4 * (y * width + x);
            if (ranges.every(([from, to], c) => data[i + c] >= from && data[i + c] <= to)) {
              [x, y, 1].forEach((n, j) => { found[j] += n; });
            }
          }
          const [sx, sy, n] = found;
          done(n === 0 ? null : { x: Math.round(sx / n / k), y: Math.round(sy / n / k), n });
        };
        image.onerror = () => done(null);
        image.src = 'data:image/png;base64,' + picture;`,
      args: [await wire('GET', `${at}/screenshot`), corners, colour],
    }),
    log: (type) => wire('POST', `${at}/se/log`, { type }),
    device,
    size,
    /** Another tab in front of this one; what it answers brings this one back. */
    covered: async () => {
      const here = await wire('GET', `${at}/window`);
      const { handle } = await wire('POST', `${at}/window/new`, { type: 'tab' });
      return async () => {
        await wire('POST', `${at}/window`, { handle });
        await wire('DELETE', `${at}/window`);
        await wire('POST', `${at}/window`, { handle: here });
      };
    },
    key: (value) => act([{
      type: 'key', id: 'keys', actions: [{ type: 'keyDown', value }, { type: 'pause', duration: 60 }, { type: 'keyUp', value }],
    }]),
    click: (x, y) => act([{
      type: 'pointer', id: 'mouse', parameters: { pointerType: 'mouse' },
      actions: [
        { type: 'pointerMove', x, y, duration: 60 }, { type: 'pause', duration: 300 },
        { type: 'pointerDown', button: 0 }, { type: 'pause', duration: 100 }, { type: 'pointerUp', button: 0 },
      ],
    }]),
    fingers: (paths) => act(paths.map((path, i) => ({
      type: 'pointer', id: `finger${i}`, parameters: { pointerType: 'touch' },
      actions: [
        { type: 'pointerMove', ...path[0], duration: 0 }, { type: 'pointerDown', button: 0 },
        ...path.slice(1).map((p) => ({ type: 'pointerMove', ...p, duration: 120 })),
        { type: 'pointerUp', button: 0 },
      ],
    }))),
    close: async () => {
      try { await wire('DELETE', at); } catch { /* it may be gone already */ }
      driver.kill();
      await sleep(300);
      rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
    },
  };
}
