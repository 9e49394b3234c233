// What is typed and not acknowledged: kept on the device, in order, until the bot has it.

import { FOLD, toEnd, toEndIfThere } from "./log.js";
import { send } from "./line.js";
import { button, byId, clockOf, here, make, newId, notice } from "./made.js";
import { write } from "./writing.js";

const PENDING = "lampwatch.pending";   // its name in the device's own store
const LONGEST = 150000;                // characters in one message; the bot takes no longer one

let memory = [];                       // stands in where the browser gives no store

export function pending() {
  try { return JSON.parse(localStorage.getItem(PENDING) || "[]"); } catch { return memory; }
}

function keep(list) {
  memory = list;
  try { localStorage.setItem(PENDING, JSON.stringify(list)); } catch { /* kept in memory while the page is open */ }
  showPending();
}

export function settle(id) {
  if (pending().some(item => item.id === id)) keep(pending().filter(item => item.id !== id));
}

export function refuse(id, why) {
  keep(pending().map(item => item.id === id ? { ...item, why } : item));
}

export function say(text, mends) {     // `mends`: the id of the line that the words correct
  if (!text.trim()) return false;
  if (text.length > LONGEST) {
    notice(`That is ${text.length} characters long, and one message holds ${LONGEST}. Nothing was sent: send it in parts.`);
    return false;
  }
  notice("");
  const item = { id: newId(), text, typed: Date.now(), mends };
  keep([...pending(), item]);
  send(item);
  toEnd();
  return true;
}

export function showPending() {
  byId("waiting").replaceChildren(...pending().map(draw));
  toEndIfThere();
}

function draw(item) {
  const line = make("li", item.why ? "line mine refused" : "line mine");
  const said = make("div", "said");
  const text = make("p", item.text.length > FOLD ? "text long" : "text", item.text);
  text.dir = "auto";
  said.append(make("span", "name", here.me || "you"), text, make("p", "text fate", item.why || "not sent yet: kept on this device"));
  if (item.why) {
    const picks = make("div", "picks");
    picks.append(button("Try again", () => { refuse(item.id, undefined); send({ ...item, why: undefined }); }),
                 button("Take it back", () => { settle(item.id); write(item.text); }));
    said.append(picks);
  }
  line.append(make("time", "", clockOf(new Date(item.typed))), said);
  return line;
}

addEventListener("storage", event => { if (event.key === PENDING) showPending(); });
