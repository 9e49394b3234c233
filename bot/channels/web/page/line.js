// The line to the bot: one socket, which comes back by itself.

import { listen, stillCalls } from "./call.js";
import { glance } from "./glance.js";
import { got } from "./got.js";
import { drawKeys } from "./keys.js";
import { forget, linksOf, seen, show } from "./log.js";
import { byId, here, notice } from "./made.js";
import { reads } from "./reads.js";
import { pending, refuse, settle, showPending } from "./waiting.js";

const HEARTBEAT = 20000;               // ms between two signs of life asked of the bot
const PATIENCE = 6000;                 // ms without one after which the line counts as dead

let socket = null, tries = 0, retry = 0, heard = 0, run = "";

export function send(item) {
  if (!live() || !here.zone || item.why) return;
  const seconds = Math.max(0, Math.round((Date.now() - item.typed) / 1000));
  tell({ say: item.text, id: item.id, typed_ago: seconds, mends: item.mends });
}

export function tell(frame) {          // a frame that may be lost without harm where there is no line; whether there was one
  if (live()) socket.send(JSON.stringify(frame));
  return live();
}

function live() {
  return socket !== null && socket.readyState === WebSocket.OPEN;
}

export function connect() {
  clearTimeout(retry);
  const mine = new WebSocket(`${location.protocol === "https:" ? "wss" : "ws"}://${location.host}/socket?after=${seen.newest}&run=${run}`);
  socket = mine;
  heard = Date.now();
  mine.onmessage = event => { if (mine === socket) { heard = Date.now(); take(JSON.parse(event.data)); } };
  mine.onclose = event => { if (mine === socket) lost(event.code); };
}

function lost(code) {
  state(false);
  socket = null;
  tries += 1;
  if (tries % 3 === 1) stillJoined();
  clearTimeout(retry);
  retry = setTimeout(connect, code === 1001 ? 1000 : Math.min(4000, 300 * 2 ** Math.min(tries, 5)) * (0.7 + Math.random() * 0.6));
}

async function stillJoined() {         // a device that was sent away learns it by the page itself
  try { if ((await fetch("/", { method: "HEAD", cache: "no-store" })).status === 401) location.reload(); } catch { /* no bot: go on trying */ }
}

function again() {                     // the phone woke up, or is back in the house
  if (document.visibilityState === "hidden") return;
  if (!socket) connect();
  else if (live()) ping();
}

function ping() {
  const asked = socket;
  asked.send('{"ping":1}');
  setTimeout(() => { if (asked === socket && Date.now() - heard > PATIENCE) { asked.close(); lost(0); } }, PATIENCE + 50);
}

function take(frame) {
  if (frame.you) {
    here.me = frame.you;
    here.zone = frame.zone;
    run = frame.run;
    linksOf([location.origin, frame.page].filter(Boolean).map(address => `${address}/join/`));
    tries = 0;
    byId("story").hidden = !frame.story;
    byId("story").textContent = frame.story || "";
    state(true);
  }
  if (frame.people) byId("who").textContent = [`${here.me} (you)`, ...frame.people.filter(name => name !== here.me)].join(", ");
  if (frame.glance) { glance(frame.glance); drawKeys(); }
  if (frame.turn) reads(frame);
  if (frame.fresh) forget();
  if (frame.lines) { show(frame.lines); listen(frame.lines); got(frame.lines); }
  if (frame.glance) stillCalls(frame.glance);
  if (frame.earlier !== undefined) byId("earlier").hidden = !frame.earlier;
  if (frame.kept) settle(frame.kept);
  if (frame.not_kept) refuse(frame.not_kept, frame.why);
  else if (frame.why) notice(frame.why);
  if (frame.you) for (const item of pending()) send(item);
}

function state(is) {
  document.body.classList.toggle("live", is);
  byId("state").textContent = is ? "live" : "reconnecting";
  showPending();
}

export function keepAlive() {
  for (const name of ["online", "pageshow", "focus"]) addEventListener(name, again);
  document.addEventListener("visibilitychange", again);
  setInterval(() => { if (live()) ping(); }, HEARTBEAT);
}
