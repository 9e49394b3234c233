// Keys for one thumb: they only compose a message, which is seen in the field before it goes.

import { pups, unit } from "./glance.js";
import { button, byId, make } from "./made.js";
import { say } from "./waiting.js";
import { compose, submit } from "./writing.js";

const DOINGS = ["nursed 15", "cleared", "peed", "pooped", "refused", "with mom", "in the box"];
const ASKED = ["who's due?", "today's gains?", "status", "handover", "help"];

let parts = [];                        // what was composed: { kind: "pup" | "doing" | "weight" | "free", words }
let weighing = false;

export function drawKeys() {
  const keys = byId("keys");
  keys.classList.toggle("pad", weighing);
  keys.replaceChildren(...(weighing ? pad() : rows()));
}

export function typedByHand(words) {   // what stands in the field was changed by the keyboard
  parts = words.trim() ? [{ kind: "free", words: words.trim() }] : [];
  if (!parts.length) leavePad();
}

export function sent() {
  parts = [];
  leavePad();
}

function rows() {
  const who = make("div", "row who"), what = make("div", "row"), ask = make("div", "row");
  who.setAttribute("role", "group");
  who.setAttribute("aria-label", "Who");
  what.setAttribute("role", "group");
  what.setAttribute("aria-label", "What");
  ask.setAttribute("role", "group");
  ask.setAttribute("aria-label", "Ask");
  for (const pup of pups()) who.append(pupKey(pup));
  if (pups().length > 1) who.append(key("all", () => add("pup", "all")));
  who.append(key("mom", () => add("pup", "mom")));
  what.append(key("weigh", () => weigh()), ...DOINGS.map(words => key(words, () => add("doing", words))), key("back", takeBack));
  ask.append(...ASKED.map(words => key(words, () => say(words))));
  return pups().length ? [who, what, ask] : [ask];
}

function pupKey(pup) {
  const made = key(String(pup.n), () => add("pup", String(pup.n)));
  const name = pup.called.replace(/^Pup \d+ ?/, "");
  if (name) made.append(make("small", "", name));
  made.setAttribute("aria-label", pup.called);
  return made;
}

function key(label, act) {
  return button(label, act);
}

function add(kind, words) {
  const last = parts.at(-1);
  if (kind === "pup" && last?.kind === "pup" && (words === "all" || last.words === "all")) parts.pop();
  parts.push({ kind, words });
  write();
}

function takeBack() {
  parts.pop();
  write();
}

function write() {
  let text = "";
  for (const part of parts) text += !text ? part.words : part.kind === "pup" ? `, ${part.words}` : ` ${part.words}`;
  compose(text);
  drawKeys();
}

// ---- the number pad ------------------------------------------------------------------------------------------

function weigh() {
  if (parts.at(-1)?.kind !== "pup") parts.push({ kind: "pup", words: String(next()?.n ?? "") });
  parts.push({ kind: "weight", words: "" });
  weighing = true;
  write();
}

function next() {                      // the first pup, by number, that this message has not named
  const named = new Set(parts.filter(part => part.kind === "pup").map(part => part.words));
  return pups().find(pup => !named.has(String(pup.n)));
}

function pad() {
  const on = pups().find(pup => String(pup.n) === parts.at(-2)?.words), typed = parts.at(-1).words;
  const last = make("p", "last", on ? `${on.called}: ${on.grams === null ? "not weighed yet" : `last ${on.weight}${change(on, typed)}`}` : "");
  last.setAttribute("role", "status");
  const digit = sign => key(sign, () => { parts.at(-1).words += sign; write(); });
  const erase = key("⌫", () => { parts.at(-1).words = typed.slice(0, -1); write(); });
  erase.setAttribute("aria-label", "Erase");
  const more = key("next pup", () => {
    const other = next();
    if (!typed || !other) return;
    parts.push({ kind: "pup", words: String(other.n) }, { kind: "weight", words: "" });
    write();
  });
  more.disabled = !typed || !next();
  const done = key("keys", leavePad), go = key("Send", submit);
  go.className = "go";
  return [last, ..."123".split("").map(digit), erase, ..."456".split("").map(digit), digit("."), ..."789".split("").map(digit), more,
    done, digit("0"), go];
}

function change(pup, typed) {
  const grams = Number(typed) * (unit() === "oz" ? 28.349523125 : 1);
  if (!typed || typed.length < 2 || !Number.isFinite(grams)) return "";
  const by = unit() === "oz" ? (grams - pup.grams) / 28.349523125 : grams - pup.grams;
  return `, now ${by < 0 ? "−" : "+"}${Math.abs(by).toFixed(1).replace(/\.0$/, "")} ${unit()}`;
}

function leavePad() {
  weighing = false;
  if (parts.at(-1)?.kind === "weight" && !parts.at(-1).words) {
    parts.splice(-2);
    return write();
  }
  drawKeys();
}
