// What is said unasked is confirmed once it stands before someone's eyes: what nobody confirms goes out by another way.
// By the bed nobody's eyes are open: there it is confirmed once the call was taken.

import { calling, onCall } from "./call.js";
import { tell } from "./line.js";
import { byId, here } from "./made.js";

let waiting = [];                      // shown, and not confirmed: nobody looks at the page, or there is no line

export function got(lines) {
  for (const { id, says, to } of lines) if ((says === "nudge" || says === "warning") && (to === "all" || to === here.me)) waiting.push(id);
  confirm();
}

function confirm() {
  if (waiting.length && document.visibilityState === "visible" && !(byId("bedside").open && calling()) && tell({ got: waiting })) waiting = [];
}

document.addEventListener("visibilitychange", confirm);
onCall(confirm);
