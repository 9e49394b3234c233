// The bedside view: an old phone or tablet by the bed. Dim; the hour, who is due for what and when, who has the watch, what is wrong; a tone
// that rises when this person is called, and two large keys, either of which takes the call.

import { begin, calling, end, onCall, quiet, setQuiet } from "./call.js";
import { litters, nextOf, span } from "./glance.js";
import { byId, clockOf, here, make } from "./made.js";
import { hush, ready, ring, unlock } from "./tone.js";
import { say } from "./waiting.js";

const TICK = 1000;                     // ms between two looks at the clock
const TRY = 8000;                      // ms that the tone is tried for: it has risen by then
const AGAIN = 5000;                    // ms after which a screen that was let go is asked to stay awake again
const LOST = 120000;                   // ms without a line to the bot after which it is said
const ADRIFT = 12;                     // pixels, at most, that all of it wanders, so that nothing burns in
const PATH = "/bedside";

const STAYS_AWAKE = "", REFUSED = "This device would not keep its screen awake, perhaps to spare its battery: plug it in, and open this view again.";
const MAY_SLEEP = "This browser keeps the screen awake only over HTTPS: set this device's own screen time-out to never, and plug it in.";

let timer = 0, lock = null, awake = STAYS_AWAKE, lostSince = 0, trying = 0;

export function readyForTheBed() {
  byId("bed").addEventListener("click", open);
  byId("leave").addEventListener("click", () => byId("bedside").close());
  byId("bedside").addEventListener("close", close);
  byId("take").addEventListener("click", event => take(event.currentTarget.textContent));
  byId("later").addEventListener("click", event => take(event.currentTarget.textContent));
  for (const id of ["quiet", "hush"]) byId(id).addEventListener("click", () => setQuiet(!quiet()));
  byId("try").addEventListener("click", tryTheTone);
  document.addEventListener("visibilitychange", stayAwake);
  onCall(() => { drawSwitches(); draw(); });
  drawSwitches();
  if (location.pathname === PATH) open();
}

function open() {
  history.replaceState(null, "", PATH);
  byId("bedside").showModal();
  timer = setInterval(draw, TICK);
  stayAwake();
  draw();
}

function close() {
  history.replaceState(null, "", "/");
  clearInterval(timer);
  clearTimeout(trying);
  trying = 0;
  hush();
  lock?.release();
  lock = null;
}

function take(words) {                 // an ordinary message, kept on the device until the bot has it
  say(words);
  end();
}

function tryTheTone() {
  if (trying) return stopTrying();
  unlock();
  trying = setTimeout(stopTrying, TRY);
  draw();
}

function stopTrying() {
  clearTimeout(trying);
  trying = 0;
  draw();
}

async function stayAwake() {           // given up by the browser when the page is out of sight or the battery low, so asked for again
  if (!byId("bedside").open || document.visibilityState !== "visible" || (lock && !lock.released)) return;
  try {
    lock = await navigator.wakeLock.request("screen");
    lock.addEventListener("release", () => setTimeout(stayAwake, AGAIN));
    awake = STAYS_AWAKE;
  } catch { awake = navigator.wakeLock ? REFUSED : MAY_SLEEP; }
  document.documentElement.dataset.awake = awake === STAYS_AWAKE ? "yes" : "no";
  draw();
}

// ---- what it shows -------------------------------------------------------------------------------------------

function draw() {
  if (!byId("bedside").open) return;
  watchTheLine();
  const call = calling(), now = here.now(), litter = soonest(), next = litter?.next;
  const late = Boolean(next) && new Date(next.at) <= now;
  words("hour", clockOf(now).replace(/ ?[ap]m$/, ""));
  words("half", clockOf(now).slice(-2));
  words("watch", litter ? watchOf(litter) : "");
  words("coming", next ? nextOf(litter) : "nothing is due");
  words("count", next ? span(Math.abs(new Date(next.at) - now)).replace(/(h .*) min$/, "$1") : "");
  words("until", next ? `${late ? "overdue since" : "due at"} ${clockOf(new Date(next.at))}` : "");
  byId("coming").parentElement.classList.toggle("over", late);
  lines("amiss", litters().flatMap(each => each.worries));
  words("called", call ? call.text : "");
  words("take", litter?.until ? `I'm on until ${clockOf(new Date(litter.until))}` : "I'm on");
  byId("keysByBed").hidden = !call;
  byId("bedside").classList.toggle("calls", Boolean(call));
  words("try", trying ? "stop" : "try the tone");
  lines("notes", [lostSince && Date.now() - lostSince > LOST ? `No line to the bot since ${clockOf(now - (Date.now() - lostSince))}: what is told now does not come here. What was due is still counted.` : "",
    quiet() ? "This device is quiet: it makes no sound." : ready() ? "" : "Tap anywhere once, so that this device may sound.", awake].filter(Boolean));
  if (call && !quiet()) ring(call.says); else if (trying) ring("trial"); else hush();
  drift(now);
}

function drawSwitches() {              // whether this device sounds: kept on it
  for (const id of ["quiet", "hush"]) {
    byId(id).setAttribute("aria-label", "quiet: no sound from this device");
    words(id, quiet() ? "quiet" : "sound");
    byId(id).setAttribute("aria-pressed", String(quiet()));
  }
}

function soonest() {                   // the litter whose care comes first
  return [...litters()].sort((one, other) => new Date(one.next?.at ?? 8e15) - new Date(other.next?.at ?? 8e15))[0];
}

function watchOf(litter) {
  if (!litter.watch) return "nobody has the watch: nudges go to everyone";
  return `${litter.watch === here.me ? "you have" : `${litter.watch} has`} the watch${litter.until ? ` until ${clockOf(new Date(litter.until))}` : ""}`;
}

function watchTheLine() {              // with no line, this device's own clock calls once the next care is due
  if (document.body.classList.contains("live")) { lostSince = 0; return; }
  lostSince ||= Date.now();
  const next = soonest()?.next, watch = soonest()?.watch;
  if (!next || Date.now() - lostSince < LOST || (watch && watch !== here.me) || next.calledHere || new Date(next.at) > here.now()) return;
  if (new Date(next.at) < here.now() - LOST) return;
  next.calledHere = true;
  begin({ says: "nudge", to: here.me, about: next.care, urgency: "routine", text: `Due by this device's own clock, for there is no line to the bot: ${nextOf(soonest())}.` });
}

function drift(now) {                  // a pixel or two a minute
  const minute = Math.floor(now / 60000), still = matchMedia("(prefers-reduced-motion: reduce)").matches;
  const [x, y] = still ? [0, 0] : [Math.sin(minute / 4), Math.cos(minute / 7)].map(part => Math.round((part - 1) / 2 * ADRIFT));
  byId("wanders").style.transform = `translate(${x}px, ${y}px)`;
}

function words(id, text) {
  if (byId(id).textContent !== text) byId(id).textContent = text;
}

function lines(id, texts) {
  const now = [...byId(id).children].map(each => each.textContent);
  if (now.join("\n") !== texts.join("\n")) byId(id).replaceChildren(...texts.map(text => make("p", "", text)));
}
