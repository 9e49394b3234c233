// Mending a line where it stands: what was logged is corrected by words, the line itself is kept, and the correction stands below.

import { pups } from "./glance.js";
import { button, byId, clockOf, make } from "./made.js";
import { say } from "./waiting.js";
import { readAlong } from "./reads.js";
import { write } from "./writing.js";

let mended = null;                     // the line that the words in the field correct

export function mends() {
  return mended?.id;
}

export function mendable(line, entry) {  // a tap on the line, or its key, offers what can be changed
  if (entry.does !== "log" && entry.does !== "fix") return;
  const open = button("mend", () => offer(line, entry));
  open.className = "mend";
  open.setAttribute("aria-label", `Mend: ${entry.text}`);
  line.querySelector(".said").append(open);
  line.querySelector(".text").addEventListener("click", () => { if (!String(getSelection())) offer(line, entry); });
}

export function leave() {
  mended = null;
  byId("mending").hidden = true;
  readAlong();
}

function offer(line, entry) {
  const open = line.querySelector(".offer");
  for (const other of document.querySelectorAll(".offer")) other.remove();
  if (open) return;
  const picks = make("div", "picks offer");
  picks.append(
    button("undo", () => send(picks, entry, "undo")),
    button("other pup", () => picks.replaceChildren(...pups().map(pup => named(picks, entry, pup)))),
    button("change", () => begin(picks, entry, "no, ")),
    button("time", () => begin(picks, entry, "that was at ")),
  );
  line.querySelector(".said").append(picks);
  picks.scrollIntoView({ block: "nearest" });
}

function named(picks, entry, pup) {
  const made = button(String(pup.n), () => send(picks, entry, `that was pup ${pup.n}`));
  made.setAttribute("aria-label", `It was ${pup.called}`);
  return made;
}

function send(picks, entry, words) {
  picks.remove();
  say(words, entry.id);
}

function begin(picks, entry, words) {
  picks.remove();
  mended = entry;
  const strip = byId("mending");
  const shown = entry.text.length > 60 ? `${entry.text.slice(0, 60)}…` : entry.text;
  strip.replaceChildren(make("span", "", `mends ${clockOf(new Date(entry.at))} “${shown}”`), button("leave", leave));
  strip.hidden = false;
  write(words);
}
