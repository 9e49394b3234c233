// The page of the log: it shows what was said, sends what is typed, and keeps it on the device until the bot has it.
// Words of people and of the bot become text nodes only, never markup.
"use strict";

const PENDING = "lampwatch.pending";   // what was typed and is not acknowledged, in the device's own store
const LONGEST = 150000;                // characters in one message; the bot takes no longer one
const FOLD = 1500;                     // characters from which a text scrolls inside its own line
const HEARTBEAT = 20000;               // ms between two signs of life asked of the bot
const PATIENCE = 6000;                 // ms without one after which the line counts as dead
const DAY_FROM = 7, DAY_UNTIL = 19;    // the hours in which the page may be light
const NO_CHART = "The chart could not be drawn just now; what it shows stands below, in words.";
const MARKS = { routine: "due", soon: "soon", "vet today": "vet today", emergency: "now" };

const page = {};
const lines = new Map();               // id of a kept line -> its element
let me = "", zone, oldest = 0, newest = 0, socket = null, tries = 0, retry = 0, heard = 0, run = "", links = [], stuck = true;

// ---- night and day -------------------------------------------------------------------------------------------

const LIGHT = day => day ? "(prefers-color-scheme: light)" : "not all";

function lightOrDark() {
  const hour = new Date().getHours();
  const day = hour >= DAY_FROM && hour < DAY_UNTIL;
  document.documentElement.classList.toggle("day", day);
  const light = day && matchMedia("(prefers-color-scheme: light)").matches;
  document.querySelector('meta[name="theme-color"]').content = light ? "#faf6ec" : "#12100c";
  for (const source of document.querySelectorAll("picture source")) source.media = LIGHT(day);
}
lightOrDark();                         // before the first line is painted: no white flash at three in the morning
setInterval(lightOrDark, 60000);
matchMedia("(prefers-color-scheme: light)").addEventListener("change", lightOrDark);

// ---- small makers --------------------------------------------------------------------------------------------

function make(tag, className, text) {
  const element = document.createElement(tag);
  if (className) element.className = className;
  if (text !== undefined) element.append(document.createTextNode(text));
  return element;
}

function clockOf(when) {
  return new Intl.DateTimeFormat("en-US", { hour: "numeric", minute: "2-digit", timeZone: zone }).format(when).toLowerCase();
}

function dateOf(when) {
  return new Intl.DateTimeFormat("en-GB", { weekday: "long", day: "numeric", month: "long", timeZone: zone }).format(when);
}

function newId() {                     // crypto.randomUUID is missing on plain http pages
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), byte => byte.toString(16).padStart(2, "0")).join("");
}

// ---- what is typed and not acknowledged ----------------------------------------------------------------------

let memory = [];                       // stands in where the browser gives no store
function pending() {
  try { return JSON.parse(localStorage.getItem(PENDING) || "[]"); } catch { return memory; }
}

function keepPending(list) {
  memory = list;
  try { localStorage.setItem(PENDING, JSON.stringify(list)); } catch { /* kept in memory while the page is open */ }
  showPending();
}

function settle(id) {
  if (pending().some(item => item.id === id)) keepPending(pending().filter(item => item.id !== id));
}

function refuse(id, why) {
  keepPending(pending().map(item => item.id === id ? { ...item, why } : item));
}

function say(text) {
  if (!text.trim()) return false;
  if (text.length > LONGEST) {
    notice(`That is ${text.length} characters long, and one message holds ${LONGEST}. Nothing was sent: send it in parts.`);
    return false;
  }
  notice("");
  const item = { id: newId(), text, typed: Date.now() };
  keepPending([...pending(), item]);
  send(item);
  toEnd();
  return true;
}

function send(item) {
  if (!socket || socket.readyState !== WebSocket.OPEN || !zone || item.why) return;
  const seconds = Math.max(0, Math.round((Date.now() - item.typed) / 1000));
  socket.send(JSON.stringify({ say: item.text, id: item.id, typed_ago: seconds }));
}

function showPending() {
  page.waiting.replaceChildren(...pending().map(item => {
    const line = make("li", item.why ? "line mine refused" : "line mine");
    const said = make("div", "said");
    const text = make("p", item.text.length > FOLD ? "text long" : "text", item.text);
    text.dir = "auto";
    said.append(make("span", "name", me || "you"), text, make("p", "text fate", item.why || "not sent yet: kept on this device"));
    if (item.why) {
      const picks = make("div", "picks");
      picks.append(button("Try again", () => { refuse(item.id, undefined); send({ ...item, why: undefined }); }),
                   button("Take it back", () => { settle(item.id); page.text.value = item.text; grow(); page.text.focus(); }));
      said.append(picks);
    }
    line.append(make("time", "", clockOf(new Date(item.typed))), said);
    return line;
  }));
  if (stuck) toEnd();
}

function button(label, act) {
  const made = make("button", "", label);
  made.type = "button";
  made.addEventListener("click", act);
  return made;
}

// ---- the log -------------------------------------------------------------------------------------------------

function show(entries) {
  const wasAtEnd = stuck;
  for (const entry of entries) {
    if (entry.client_id) settle(entry.client_id);
    if (lines.has(entry.id)) continue;
    const element = draw(entry);
    lines.set(entry.id, element);
    place(element, entry.id);
    newest = Math.max(newest, entry.id);
    oldest = oldest ? Math.min(oldest, entry.id) : entry.id;
  }
  tidy();
  if (wasAtEnd) toEnd(); else if (entries.some(entry => entry.id >= newest)) page.below.hidden = false;
}

function forget() {                    // the log comes afresh: after a long absence, or from another run of the bot
  lines.clear();
  page.log.replaceChildren();
  oldest = newest = 0;
}

function place(element, id) {          // by the order kept; nearly always at the end
  let before = page.log.lastElementChild;
  while (before && !(Number(before.dataset.id) < id)) before = before.previousElementSibling;
  if (before) before.after(element); else page.log.prepend(element);
}

function tidy() {                      // a date above each day, each minute once, and answers offered to the last question alone
  for (const old of page.log.querySelectorAll(".date")) old.remove();
  let last = "", minute = "";
  for (const line of page.log.querySelectorAll(".line")) {
    if (line.dataset.date !== last) line.before(make("li", "date", line.dataset.date));
    last = line.dataset.date;
    const now = last + line.firstElementChild.textContent;
    line.classList.toggle("same-minute", line.classList.contains("bot") && now === minute);
    minute = now;
  }
  const mine = [...page.log.querySelectorAll(".line")].filter(line => line.dataset.between === me);
  for (const line of mine.slice(0, -1)) line.querySelector(".picks")?.remove();  // a tap answers the last question only
}

function draw(entry) {
  const when = new Date(entry.at), fromBot = !entry.by, unasked = entry.says === "nudge" || entry.says === "warning";
  const serious = entry.urgency === "emergency" || entry.urgency === "vet today" || entry.says === "warning";
  const line = make("li", ["line", fromBot ? "bot" : "person", entry.by === me && me ? "mine" : "", entry.says === "answer" ? "answer" : "",
    unasked ? "unasked" : "", serious ? "serious" : "", entry.urgency === "emergency" ? "emergency" : ""].filter(Boolean).join(" "));
  line.dataset.id = entry.id;
  line.dataset.between = fromBot ? entry.to : entry.by;
  line.dataset.date = dateOf(when);
  const time = make("time", "", clockOf(when));
  time.dateTime = entry.at;
  const said = make("div", "said");
  if (fromBot) said.append(make("span", "unseen", "lampwatch: "));
  else { const name = make("bdi", "name", entry.by); said.append(name); }
  if (unasked && entry.urgency) said.append(make("span", "mark", mark(entry)));
  const text = make("p", entry.text.length > FOLD ? "text long" : "text");
  if (fromBot && / {2}/.test(entry.text)) text.classList.add("columns");  // figures that stand under each other
  text.dir = "auto";
  fromBot ? withLinks(text, entry.text) : text.append(document.createTextNode(entry.text));
  said.append(text);
  if (entry.shows === "chart") said.append(chart(entry), inWords(text));
  if (entry.taps && entry.to === me) said.append(choices(entry.taps));
  line.append(time, said);
  return line;
}

function mark(entry) {
  const label = MARKS[entry.urgency] || entry.urgency;
  return entry.to && entry.to !== "all" ? `${label} · for ${entry.to}` : label;
}

function withLinks(text, words) {      // only our own join links become links, so that they can be tapped and copied
  let rest = words, at;
  while ((at = Math.min(...links.map(link => rest.indexOf(link)).filter(place => place >= 0))) !== Infinity) {
    const end = at + rest.slice(at).search(/\s|$/);
    const address = rest.slice(at, end).replace(/[.,;)]+$/, "");
    const anchor = make("a", "", address);
    anchor.href = address;
    text.append(document.createTextNode(rest.slice(0, at)), anchor);
    rest = rest.slice(at + address.length);
  }
  text.append(document.createTextNode(rest));
}

function chart(entry) {                // the answer's own words say what is on it, so they are its alternative text
  const figure = make("figure", "chart"), picture = make("picture"), light = make("source"), image = make("img");
  const day = document.documentElement.classList.contains("day");
  light.media = LIGHT(day);
  light.srcset = `/chart/${entry.id}/light.png`;
  image.alt = entry.text;
  image.loading = "lazy";
  image.width = 340; image.height = 360;   // about as large as it will be, so that the log does not jump
  image.src = `/chart/${entry.id}/dark.png`;
  image.addEventListener("load", () => { image.width = image.naturalWidth / 3; image.height = image.naturalHeight / 3; if (stuck) toEnd(); });
  image.addEventListener("error", () => {
    figure.parentElement.querySelector("details").open = true;
    figure.replaceChildren(make("p", "fate", NO_CHART), button("Try again", () => figure.replaceWith(chart(entry))));
  });
  const enlarge = button("", () => {
    page.large.replaceChildren(image.cloneNode());
    page.large.firstChild.src = image.currentSrc;
    page.large.showModal();
  });
  enlarge.setAttribute("aria-label", "Enlarge the chart");
  picture.append(light, image);
  enlarge.append(picture);
  figure.append(enlarge);
  return figure;
}

function inWords(text) {
  const folded = make("details");
  folded.append(make("summary", "", "in words"), text);
  return folded;
}

function choices(answers) {            // answers to a question back, each a tap in place of typing it
  const picks = make("div", "picks");
  for (const word of answers) picks.append(button(word, () => { picks.remove(); say(word); }));
  return picks;
}

function isAtEnd() {
  return page.scroll.scrollHeight - page.scroll.scrollTop - page.scroll.clientHeight < 80;
}

function toEnd() {
  page.scroll.scrollTop = page.scroll.scrollHeight;
  page.below.hidden = stuck = true;
}

// ---- the line to the bot -------------------------------------------------------------------------------------

function connect() {
  clearTimeout(retry);
  const mine = new WebSocket(`${location.protocol === "https:" ? "wss" : "ws"}://${location.host}/socket?after=${newest}&run=${run}`);
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
  else if (socket.readyState === WebSocket.OPEN) ping();
}

function ping() {
  const asked = socket;
  asked.send('{"ping":1}');
  setTimeout(() => { if (asked === socket && Date.now() - heard > PATIENCE) { asked.close(); lost(0); } }, PATIENCE + 50);
}

function take(frame) {
  if (frame.you) {
    me = frame.you;
    zone = frame.zone;
    run = frame.run;
    links = [location.origin, frame.page].filter(Boolean).map(address => `${address}/join/`);
    tries = 0;
    page.story.hidden = !frame.story;
    page.story.textContent = frame.story || "";
    state(true);
  }
  if (frame.people) page.who.textContent = [`${me} (you)`, ...frame.people.filter(name => name !== me)].join(", ");
  if (frame.fresh) forget();
  if (frame.lines) show(frame.lines);
  if (frame.earlier !== undefined) page.earlier.hidden = !frame.earlier;
  if (frame.kept) settle(frame.kept);
  if (frame.not_kept) refuse(frame.not_kept, frame.why);
  else if (frame.why) notice(frame.why);
  if (frame.you) for (const item of pending()) send(item);
}

function state(live) {
  document.body.classList.toggle("live", live);
  page.state.textContent = live ? "live" : "reconnecting";
  showPending();
}

function notice(words) {
  page.notice.hidden = !words;
  page.notice.textContent = words;
}

// ---- writing -------------------------------------------------------------------------------------------------

function grow() {
  page.text.style.height = "auto";
  page.text.style.height = `${page.text.scrollHeight + 2}px`;
}

addEventListener("DOMContentLoaded", () => {
  for (const id of ["who", "state", "scroll", "story", "earlier", "log", "waiting", "below", "notice", "quick", "write", "text", "large"])
    page[id] = document.getElementById(id);
  page.write.addEventListener("submit", event => {
    event.preventDefault();
    if (say(page.text.value)) { page.text.value = ""; grow(); }
    page.text.focus();
  });
  page.text.addEventListener("keydown", event => {
    if (event.key === "Enter" && !event.shiftKey && !event.isComposing) { event.preventDefault(); page.write.requestSubmit(); }
  });
  page.text.addEventListener("input", grow);
  addEventListener("mousedown", event => {  // a tap on a button leaves the keyboard open: closing it would move the button away under the thumb
    if (event.target.closest("button, summary")) event.preventDefault();
  });
  page.text.addEventListener("focus", () => document.body.classList.add("typing"));
  page.text.addEventListener("blur", () => document.body.classList.remove("typing"));
  for (const each of page.quick.querySelectorAll("button")) each.addEventListener("click", () => say(each.textContent));
  page.large.addEventListener("click", () => page.large.close());
  page.earlier.addEventListener("click", () => { if (socket) socket.send(JSON.stringify({ before: oldest })); });
  page.below.addEventListener("click", toEnd);
  page.scroll.addEventListener("scroll", () => { stuck = isAtEnd(); if (stuck) page.below.hidden = true; }, { passive: true });
  new ResizeObserver(() => { if (stuck) toEnd(); }).observe(page.scroll);  // the keyboard, a long message, the questions below
  for (const name of ["online", "pageshow", "focus"]) addEventListener(name, again);
  document.addEventListener("visibilitychange", again);
  const view = window.visualViewport;  // where the keyboard covers the page without making it smaller, make it smaller
  if (view) view.addEventListener("resize", () => {
    document.body.style.height = `${view.height}px`;
    scrollTo(0, 0);
  });
  addEventListener("storage", event => { if (event.key === PENDING) showPending(); });
  setInterval(() => { if (socket && socket.readyState === WebSocket.OPEN) ping(); }, HEARTBEAT);
  showPending();
  connect();
});
