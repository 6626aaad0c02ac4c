// What a page gives to Web Audio: put into it before its own scripts, and asked.
export const LISTEN = `
  globalThis.sound = { contexts: [], pieces: 0, loudest: 0 };
  const Given = globalThis.AudioContext;
  globalThis.AudioContext = class extends Given {
    constructor(...how) { super(...how); sound.contexts.push(this); }
  };
  const start = AudioBufferSourceNode.prototype.start;
  AudioBufferSourceNode.prototype.start = function (...when) {
    sound.pieces++;
    for (const sample of this.buffer.getChannelData(0)) sound.loudest = Math.max(sound.loudest, Math.abs(sample));
    return start.apply(this, when);
  };`;

/** How many outputs were opened, whether one runs, how much was scheduled and how loud it was. */
export const heard = (browser) => browser.run(`return {
  contexts: sound.contexts.length, running: sound.contexts.some((c) => c.state === 'running' && c.currentTime > 0),
  pieces: sound.pieces, loudest: sound.loudest,
}`);
