// A call is a nudge or a warning that is for this person: heard and felt on this device, unless it is kept quiet, and over once it is
// taken here, once this person says anything anywhere, once the care is logged or once another has the watch.

import { here } from "./made.js";
import { chime } from "./tone.js";

const HEARD = "lampwatch.heard", QUIET = "lampwatch.quiet";  // names in the device's own store
const OLD = 3600000;                   // ms after which a line that comes late calls nobody any more
const RANKS = ["routine", "soon", "vet today", "emergency"];
const FELT = { nudge: [120, 80, 120], warning: [250, 100, 250, 100, 250] };  // ms of vibration and rest

const told = [];                       // who wants to know that a call begins or ends
const memory = new Map();              // stands in where the browser gives no store
let call = null, before = 0;           // `before`: what this device had heard when the page was opened, then what the page has

export function onCall(tell) {
  told.push(tell);
}

export function calling() {
  return call;
}

export function listen(lines) {        // lines as they come, those of a long absence too
  before ||= Number(kept(HEARD) || 0);
  const news = lines.filter(line => line.id > before);
  for (const line of news) {
    if (line.by === here.me) end();
    else if (before && isForMe(line) && here.now() - new Date(line.at) < OLD) begin(line);
  }
  if (!news.length) return;
  before = Math.max(...news.map(line => line.id));
  keep(HEARD, String(before));
}

export function stillCalls(litters) {  // the care was logged, or another has the watch; a warning waits for a person
  if (call?.says !== "nudge") return;
  const overdue = litters.some(litter => litter.late.includes(call.about));
  const mine = call.to === "all" || litters.some(litter => !litter.watch || litter.watch === here.me);
  if (!overdue || !mine) end();
}

export function begin(line) {
  if (call && RANKS.indexOf(call.urgency) > RANKS.indexOf(line.urgency)) return;
  call = line;
  if (!quiet()) { chime(line.says); feel(line.says); }
  tell();
}

export function end() {
  if (!call) return;
  call = null;
  tell();
}

export function quiet() {
  return kept(QUIET) === "1";
}

export function setQuiet(is) {
  keep(QUIET, is ? "1" : "");
  tell();
}

function isForMe(line) {
  return (line.says === "nudge" || line.says === "warning") && (line.to === "all" || line.to === here.me);
}

function feel(kind) {                  // who asked the device for less motion gets one short touch
  const less = matchMedia("(prefers-reduced-motion: reduce)").matches;
  if (navigator.userActivation?.hasBeenActive !== false) navigator.vibrate?.(less ? 80 : FELT[kind]);
}

function tell() {
  document.documentElement.dataset.call = call ? call.says : "none";
  for (const each of told) each();
}

function kept(name) {
  try { return localStorage.getItem(name); } catch { return memory.get(name); }
}

function keep(name, value) {
  memory.set(name, value);
  try { localStorage.setItem(name, value); } catch { /* kept in memory while the page is open */ }
}
