// The sounds of the page, made by sums and not from files: a short chime, and a tone that rises from very soft until it is taken.
// What it does just now stands on the page itself: <html data-sound="locked | ready | none" data-tone="off | ringing">.

const NOTES = { nudge: [392, 494], trial: [392, 494], warning: [494, 622, 494] };  // Hz: warm and low, nothing that shrieks
const BEAT = 2.4;                      // seconds from one call of the rising tone to the next
const SOFTEST = 0.004, LOUDEST = 0.9;  // of full scale
const RISES = { nudge: 150, trial: 6, warning: 40 };  // seconds from the softest to the loudest

const Sound = window.AudioContext || window.webkitAudioContext;
let context = null, ringing = null;

export function unlock() {             // browsers let a page sound only after a tap on it
  if (!Sound) return;
  context ??= new Sound();
  context.onstatechange = mark;
  if (context.state !== "running") context.resume().catch(() => {});
  mark();
}

export function ready() {
  return context !== null && context.state === "running";
}

export function chime(kind) {
  if (ready()) play(kind, false, 0.3);
}

export function ring(kind) {           // until hush(); a ring that was begun before is gone on with, unless this one is more urgent
  if (!ready() || ringing?.kind === kind || (ringing?.kind === "warning" && kind === "nudge")) return;
  hush();
  ringing = { kind, ...play(kind, true, SOFTEST) };
  ringing.loudness.gain.exponentialRampToValueAtTime(LOUDEST, context.currentTime + RISES[kind]);
  mark();
}

export function hush() {
  if (!ringing) return;
  ringing.source.stop();
  ringing = null;
  mark();
}

function play(kind, again, loud) {
  const source = context.createBufferSource(), loudness = context.createGain();
  source.buffer = sum(NOTES[kind], again ? BEAT : NOTES[kind].length * 0.28 + 0.5);
  source.loop = again;
  loudness.gain.setValueAtTime(loud, context.currentTime);
  source.connect(loudness).connect(context.destination);
  source.start();
  return { source, loudness };
}

function sum(notes, seconds) {         // each note swells and dies away, with a little of its octave
  const rate = context.sampleRate, buffer = context.createBuffer(1, Math.ceil(seconds * rate), rate), wave = buffer.getChannelData(0);
  notes.forEach((hertz, place) => {
    const from = Math.floor(place * 0.28 * rate);
    for (let step = 0; from + step < wave.length; step += 1) {
      const t = step / rate, swell = Math.min(1, t / 0.03) * Math.exp(-t * 5);
      wave[from + step] += swell * (0.42 * Math.sin(2 * Math.PI * hertz * t) + 0.12 * Math.sin(4 * Math.PI * hertz * t));
    }
  });
  return buffer;
}

function mark() {
  document.documentElement.dataset.sound = !Sound ? "none" : ready() ? "ready" : "locked";
  document.documentElement.dataset.tone = ringing ? "ringing" : "off";
}

for (const tap of ["click", "keydown"]) addEventListener(tap, unlock, true);
mark();
