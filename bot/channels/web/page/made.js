// Small makers, and the little that every part of the page knows. Words of people and of the bot become text nodes only, never markup.

export const here = {
  me: "", zone: undefined,
  ahead: 0,                            // ms by which the bot's clock is ahead of this device's, which may be wrong
  now: () => Date.now() + here.ahead,
};

export function byId(id) {
  return document.getElementById(id);
}

export function make(tag, className, text) {
  const element = document.createElement(tag);
  if (className) element.className = className;
  if (text !== undefined) element.append(document.createTextNode(text));
  return element;
}

export function button(label, act) {
  const made = make("button", "", label);
  made.type = "button";
  made.addEventListener("click", act);
  return made;
}

export function clockOf(when) {
  return new Intl.DateTimeFormat("en-US", { hour: "numeric", minute: "2-digit", timeZone: here.zone }).format(when).toLowerCase();
}

export function dateOf(when) {
  return new Intl.DateTimeFormat("en-GB", { weekday: "long", day: "numeric", month: "long", timeZone: here.zone }).format(when);
}

export function newId() {              // crypto.randomUUID is missing on plain http pages
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), byte => byte.toString(16).padStart(2, "0")).join("");
}

export function notice(words) {
  const element = byId("notice");
  element.hidden = !words;
  element.textContent = words;
}
