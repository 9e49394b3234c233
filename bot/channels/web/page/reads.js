// What the words in the field would be read as, shown before they are sent.

import { tell } from "./line.js";
import { byId } from "./made.js";
import { mends } from "./mend.js";

const PAUSE = 160;                     // ms without a key until it is asked

let turn = 0, timer = 0;

export function readAlong() {          // the field has changed
  clearTimeout(timer);
  turn += 1;
  const words = byId("text").value;
  if (!words.trim()) return show("");
  timer = setTimeout(() => tell({ typing: words, turn, mends: mends() }), PAUSE);
}

export function reads(frame) {         // what came back counts for the words that still stand there
  if (frame.turn === turn) show(frame.reads);
}

function show(words) {
  const line = byId("reads");
  line.hidden = !words;
  line.replaceChildren(words ? `reads as: ${words}` : "");
  line.classList.toggle("asks", words.includes("I would ask first"));
}
