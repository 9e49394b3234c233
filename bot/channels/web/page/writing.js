// Writing: the field grows with the text, Enter sends, and what is said most is a tap away.

import { drawKeys, sent, typedByHand } from "./keys.js";
import { byId } from "./made.js";
import { leave, mends } from "./mend.js";
import { readAlong } from "./reads.js";
import { say } from "./waiting.js";

export function write(words) {         // words come into the field, to be looked at, changed and sent
  compose(words);
  typedByHand(words);
  byId("text").focus();
}

export function compose(words) {       // the same, by keys: the phone's own keyboard stays away
  byId("text").value = words;
  grow();
  readAlong();
}

export function submit() {
  byId("write").requestSubmit();
}

function grow() {
  const text = byId("text");
  text.style.height = "auto";
  text.style.height = `${text.scrollHeight + 2}px`;
}

export function readyToWrite() {
  const text = byId("text"), form = byId("write");
  form.addEventListener("submit", event => {
    event.preventDefault();
    if (say(text.value, mends())) { leave(); compose(""); sent(); }
    if (document.body.classList.contains("typing")) text.focus();
  });
  text.addEventListener("keydown", event => {
    if (event.key === "Enter" && !event.shiftKey && !event.isComposing) { event.preventDefault(); form.requestSubmit(); }
  });
  text.addEventListener("input", () => { grow(); readAlong(); typedByHand(text.value); });
  text.addEventListener("focus", () => document.body.classList.add("typing"));
  text.addEventListener("blur", () => document.body.classList.remove("typing"));
  addEventListener("mousedown", event => {  // a tap on a button leaves the keyboard open: closing it would move the button away under the thumb
    if (event.target.closest("button, summary, .person .text")) event.preventDefault();
  });
  drawKeys();
  const view = window.visualViewport;  // where the keyboard covers the page without making it smaller, make it smaller
  if (view) view.addEventListener("resize", () => {
    document.body.style.height = `${view.height}px`;
    scrollTo(0, 0);
  });
}
