// The log: every line that was kept, drawn in the order kept.

import { chart, inWords, sheet } from "./chart.js";
import { button, byId, clockOf, dateOf, here, make } from "./made.js";
import { mendable } from "./mend.js";
import { say, settle } from "./waiting.js";

export const FOLD = 1500;              // characters from which a text scrolls inside its own line
const NUDGES = 3;                      // so many of the last nudges can be answered by a tap
const MARKS = { routine: "due", soon: "soon", "vet today": "vet today", emergency: "now" };

const lines = new Map();               // id of a kept line -> its element
export const seen = { oldest: 0, newest: 0 };
let links = [], stuck = true;

export function linksOf(addresses) {   // the addresses under which our own join links stand
  links = addresses;
}

export function show(entries) {
  const wasAtEnd = stuck;
  for (const entry of entries) {
    if (entry.client_id) settle(entry.client_id);
    if (lines.has(entry.id)) continue;
    const element = draw(entry);
    lines.set(entry.id, element);
    place(element, entry.id);
    seen.newest = Math.max(seen.newest, entry.id);
    seen.oldest = seen.oldest ? Math.min(seen.oldest, entry.id) : entry.id;
  }
  tidy();
  if (wasAtEnd) toEnd(); else if (entries.some(entry => entry.id >= seen.newest)) byId("below").hidden = false;
}

export function forget() {                    // the log comes afresh: after a long absence, or from another run of the bot
  lines.clear();
  byId("log").replaceChildren();
  seen.oldest = seen.newest = 0;
}

function place(element, id) {          // by the order kept; nearly always at the end
  let before = byId("log").lastElementChild;
  while (before && !(Number(before.dataset.id) < id)) before = before.previousElementSibling;
  if (before) before.after(element); else byId("log").prepend(element);
}

function tidy() {                      // a date above each day, each minute once, and answers offered to the last question alone
  for (const old of byId("log").querySelectorAll(".date")) old.remove();
  let last = "", minute = "";
  for (const line of byId("log").querySelectorAll(".line")) {
    if (line.dataset.date !== last) line.before(make("li", "date", line.dataset.date));
    last = line.dataset.date;
    const now = last + line.firstElementChild.textContent;
    line.classList.toggle("same-minute", line.classList.contains("bot") && now === minute);
    minute = now;
  }
  const mine = [...byId("log").querySelectorAll(".line:not(.unasked)")].filter(line => line.dataset.between === here.me);
  for (const picks of [...byId("log").querySelectorAll(".unasked .picks")].slice(0, -NUDGES)) picks.remove();
  for (const line of mine.slice(0, -1)) line.querySelector(".picks")?.remove();  // a tap answers the last question only
}

function draw(entry) {
  const when = new Date(entry.at), fromBot = !entry.by, unasked = entry.says === "nudge" || entry.says === "warning";
  const serious = entry.urgency === "emergency" || entry.urgency === "vet today" || entry.says === "warning";
  const line = make("li", ["line", fromBot ? "bot" : "person", entry.by === here.me && here.me ? "mine" : "", entry.says === "answer" ? "answer" : "",
    unasked ? "unasked" : "", serious ? "serious" : "", entry.urgency === "emergency" ? "emergency" : ""].filter(Boolean).join(" "));
  line.dataset.id = entry.id;
  line.dataset.between = fromBot ? entry.to : entry.by;
  line.dataset.date = dateOf(when);
  const time = make("time", "", clockOf(when));
  time.dateTime = entry.at;
  const said = make("div", "said");
  if (fromBot) said.append(make("span", "unseen", "lampwatch: "));
  else said.append(make("bdi", "name", entry.by));
  if (entry.mends) said.append(make("span", "of", mendedBy(entry.mends)));
  if (unasked && entry.urgency) said.append(make("span", "mark", mark(entry)));
  const text = make("p", entry.text.length > FOLD ? "text long" : "text");
  if (fromBot && / {2}/.test(entry.text)) text.classList.add("columns");  // figures that stand under each other
  text.dir = "auto";
  fromBot ? withLinks(text, entry.text) : text.append(document.createTextNode(entry.text));
  said.append(text);
  if (entry.shows === "chart") said.append(chart(entry), inWords(text));
  if (entry.shows === "sheet") said.append(sheet(entry));
  if (entry.taps && (entry.to === here.me || entry.to === "all")) said.append(choices(entry.taps));
  line.append(time, said);
  if (!fromBot) mendable(line, entry);
  return line;
}

function mendedBy(id) {
  const line = lines.get(id);
  return line ? `mends ${line.querySelector("time").textContent}` : "mends an earlier line";
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

function choices(answers) {            // answers to a question back, each a tap in place of typing it
  const picks = make("div", "picks");
  for (const word of answers) picks.append(button(word, () => { picks.remove(); say(word); }));
  return picks;
}

function isAtEnd() {
  return byId("scroll").scrollHeight - byId("scroll").scrollTop - byId("scroll").clientHeight < 80;
}

export function toEnd() {
  byId("scroll").scrollTop = byId("scroll").scrollHeight;
  byId("below").hidden = stuck = true;
}

export function toEndIfThere() {
  if (stuck) toEnd();
}

export function watchTheScroll() {
  byId("below").addEventListener("click", toEnd);
  byId("scroll").addEventListener("scroll", () => { stuck = isAtEnd(); if (stuck) byId("below").hidden = true; }, { passive: true });
  new ResizeObserver(toEndIfThere).observe(byId("scroll"));  // the keyboard, a long message, the questions below
}
