// The quiet strip at the top: what is next, who has the watch, how warm the box is, what is wrong; a tap opens the board.

import { byId, clockOf, here, make } from "./made.js";

const TICK = 15000;                    // ms between two looks at the clock

let all = [];                          // of each litter, the newest first

export function pups() {               // of the newest litter, by number
  return [...(all[0]?.rows ?? [])].sort((one, other) => one.n - other.n);
}

export function unit() {
  return all[0]?.unit ?? "g";
}

export function litters() {
  return all;
}

export function glance(given) {
  all = given;
  if (all.length) here.ahead = new Date(all[0].now) - Date.now();
  draw();
}

export function watchTheBoard() {
  byId("glance").addEventListener("click", () => { drawBoard(); byId("board").showModal(); });
  byId("shut").addEventListener("click", () => byId("board").close());
  setInterval(draw, TICK);
}

function draw() {
  const strip = byId("glance");
  strip.hidden = !all.length;
  strip.replaceChildren(...all.flatMap(litter => [
    ...litter.worries.slice(0, 1).map(words => make("span", "wrong", words)),
    make("span", late(litter.next) ? "late" : "", `${named(litter)}${dueOf(litter.next)}`),
    ...(litter.watch ? [make("span", "", `${litter.watch} has the watch`)] : []),
    ...(litter.box ? [make("span", "", `${litter.box.said}, ${ago(litter.box.at)} ago`)] : []),
  ]), make("span", "unseen", "open the board"));
  if (byId("board").open) drawBoard();
}

export function nextOf(litter) {       // `nursing: Pups 1 and 2`
  return `${named(litter)}${litter.next.care}: ${litter.next.who}`;
}

function named(litter) {               // only where there are several
  return all.length > 1 ? `${litter.name}: ` : "";
}

function dueOf(next) {
  if (!next) return "nothing is due";
  return `${next.care}: ${next.who} ${late(next) ? `overdue ${ago(next.at)}` : `in ${span(new Date(next.at) - here.now())}`}`;
}

function late(next) {
  return Boolean(next) && new Date(next.at) < here.now();
}

function ago(at) {
  return span(here.now() - new Date(at));
}

export function span(milliseconds) {
  const minutes = Math.max(0, Math.round(milliseconds / 60000));
  return minutes < 60 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60 ? `${minutes % 60} min` : ""}`.trim();
}

function hours(at) {                   // as far from now as it is, `0:15`
  const minutes = Math.round(Math.abs(here.now() - new Date(at)) / 60000);
  return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, "0")}`;
}

// ---- the board -----------------------------------------------------------------------------------------------

const COLUMNS = ["", "weight", "fed", "cleared", "passed", "due"];   // how long ago, in hours and minutes

function drawBoard() {
  byId("rows").replaceChildren(...all.map(litter => {
    const part = make("section"), table = make("table"), head = make("tr");
    for (const title of COLUMNS) {
      const cell = make("th", title ? "" : "unseen", title || "pup");
      cell.scope = "col";
      head.append(cell);
    }
    table.append(head, ...litter.rows.flatMap(rowOf));
    part.append(make("h3", "", litter.name), ...litter.worries.map(words => make("p", "wrong", words)), table, make("p", "dam", damOf(litter.dam)));
    return part;
  }));
}

function rowOf(row) {
  const line = make("tr"), name = make("th", "", row.called.replace(/^Pup /, ""));
  name.scope = "row";
  const weight = make("td", "", row.weight ?? "–");
  if (row.gain) weight.append(make("small", "", row.gain));
  line.append(name, weight, ...[row.fed_at, row.cleared_at, row.passed_at].map(at => make("td", "", at ? hours(at) : "–")));
  const due = make("td", row.due_at && new Date(row.due_at) < here.now() ? "late" : "");
  if (row.due_at) due.append(make("small", "", row.care), late({ at: row.due_at }) ? `${hours(row.due_at)} late` : `in ${hours(row.due_at)}`);
  line.append(due);
  if (!row.worry) return [line];
  const worry = make("tr", "worry"), words = make("td", "wrong", `${row.worry.urgency}: ${row.worry.about}, ${row.worry.seen}`);
  words.colSpan = COLUMNS.length;
  worry.append(words);
  return [line, worry];
}

function damOf(dam) {
  const due = dam.due_at ? `${dam.care} ${late({ at: dam.due_at }) ? `overdue ${ago(dam.due_at)}` : `at ${clockOf(new Date(dam.due_at))}`}` : "nothing is due";
  return `${dam.called}: ${dam.worry ? `${dam.worry.urgency}: ${dam.worry.about}, ` : ""}${due}`;
}
