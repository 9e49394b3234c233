// The page of the log: it shows what was said, sends what is typed, and keeps it on the device until the bot has it.

import { readyForTheBed } from "./bedside.js";
import { watchTheBoard } from "./glance.js";
import { connect, keepAlive, tell } from "./line.js";
import { seen, watchTheScroll } from "./log.js";
import { byId } from "./made.js";
import { readyToRing } from "./push.js";
import { showPending } from "./waiting.js";
import { readyToWrite } from "./writing.js";

readyToWrite();
watchTheBoard();
watchTheScroll();
readyForTheBed();
byId("earlier").addEventListener("click", () => tell({ before: seen.oldest }));
byId("large").addEventListener("click", () => byId("large").close());
keepAlive();
showPending();
connect();
readyToRing();
