// What is shown beside an answer: the sheet as a link; the chart as a picture, dark in the dark, with the answer's own words as what it says.

import { toEndIfThere } from "./log.js";
import { button, byId, make } from "./made.js";

const NO_CHART = "The chart could not be drawn just now; what it shows stands below, in words.";

export function chart(entry) {
  const figure = make("figure", "chart"), picture = make("picture"), light = make("source"), image = make("img");
  light.media = document.documentElement.classList.contains("day") ? "(prefers-color-scheme: light)" : "not all";  // night.js follows the hour
  light.srcset = `/chart/${entry.id}/light.png`;
  image.alt = entry.text;
  image.loading = "lazy";
  image.width = 340; image.height = 360;   // about as large as it will be, so that the log does not jump
  image.src = `/chart/${entry.id}/dark.png`;
  image.addEventListener("load", () => { image.width = image.naturalWidth / 3; image.height = image.naturalHeight / 3; toEndIfThere(); });
  image.addEventListener("error", () => {
    figure.parentElement.querySelector("details").open = true;
    figure.replaceChildren(make("p", "fate", NO_CHART), button("Try again", () => figure.replaceWith(chart(entry))));
  });
  const enlarge = button("", () => {
    byId("large").replaceChildren(image.cloneNode());
    byId("large").firstChild.src = image.currentSrc;
    byId("large").showModal();
  });
  enlarge.setAttribute("aria-label", "Enlarge the chart");
  picture.append(light, image);
  enlarge.append(picture);
  figure.append(enlarge);
  return figure;
}

export function sheet(entry) {         // opens beside the page, so that the log stays where it is
  const link = make("a", "sheet", "Open the sheet (PDF)");
  link.href = `/sheet/${entry.id}.pdf`;
  link.target = "_blank";
  link.rel = "noopener";
  return link;
}

export function inWords(text) {
  const folded = make("details");
  folded.append(make("summary", "", "in words"), text);
  return folded;
}
