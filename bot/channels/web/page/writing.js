// Writing: the field grows with the text, Enter sends, and what is said most is a tap away.

import { byId } from "./made.js";
import { say } from "./waiting.js";

export function write(words) {         // words come into the field, to be looked at and sent
  byId("text").value = words;
  grow();
  byId("text").focus();
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
    if (say(text.value)) { text.value = ""; grow(); }
    text.focus();
  });
  text.addEventListener("keydown", event => {
    if (event.key === "Enter" && !event.shiftKey && !event.isComposing) { event.preventDefault(); form.requestSubmit(); }
  });
  text.addEventListener("input", grow);
  text.addEventListener("focus", () => document.body.classList.add("typing"));
  text.addEventListener("blur", () => document.body.classList.remove("typing"));
  addEventListener("mousedown", event => {  // a tap on a button leaves the keyboard open: closing it would move the button away under the thumb
    if (event.target.closest("button, summary")) event.preventDefault();
  });
  for (const each of byId("quick").querySelectorAll("button")) each.addEventListener("click", () => say(each.textContent));
  const view = window.visualViewport;  // where the keyboard covers the page without making it smaller, make it smaller
  if (view) view.addEventListener("resize", () => {
    document.body.style.height = `${view.height}px`;
    scrollTo(0, 0);
  });
}
