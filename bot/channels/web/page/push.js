// Ringing this phone while it is locked: asked for by a tap, ended by another. Only where the browser lets it (a page that it trusts).

import { byId, notice } from "./made.js";

const POLICY = "lampwatch";            // the one script address that the page makes a script of: its own service worker

export async function readyToRing() {
  if (!isSecureContext || !("serviceWorker" in navigator) || !("PushManager" in window)) return;
  const answer = await fetch("/push/key").catch(() => null);
  if (!answer?.ok) return;
  const { key } = await answer.json();
  const worker = await navigator.serviceWorker.register(address());
  const button = byId("ring");
  let subscription = await worker.pushManager.getSubscription();
  const say = () => {
    button.textContent = !subscription ? "ring when locked" : isPrivate() ? "rings without details" : "rings with the words";
    button.setAttribute("aria-pressed", String(Boolean(subscription)));
  };
  if (subscription) await keep(subscription).catch(() => {});  // the bot may have let go of it
  say();
  button.hidden = false;
  button.addEventListener("click", async () => {
    try {                              // off, with the words, without them, off
      if (!subscription) { setPrivate(false); subscription = await begin(worker, key); }
      else if (!isPrivate()) { setPrivate(true); await keep(subscription); }
      else { await end(subscription); subscription = null; }
      notice("");
    } catch { notice("This phone did not allow it: let this page send notifications in the browser's settings, then tap again."); }
    say();
  });
}

function isPrivate() {
  return localStorage.getItem("lampwatch.private") === "yes";
}

function setPrivate(is) {
  localStorage.setItem("lampwatch.private", is ? "yes" : "no");
}

function address() {
  return window.trustedTypes ? trustedTypes.createPolicy(POLICY, { createScriptURL: () => "/sw.js" }).createScriptURL("") : "/sw.js";
}

async function begin(worker, key) {
  await navigator.serviceWorker.ready;
  const subscription = await worker.pushManager.subscribe({ userVisibleOnly: true, applicationServerKey: key });
  await keep(subscription);
  return subscription;
}

async function keep(subscription) {
  const kept = await fetch("/push/subscription", { method: "PUT", body: JSON.stringify({ ...subscription.toJSON(), private: isPrivate() }) });
  if (!kept.ok) throw new Error(kept.status);
}

async function end(subscription) {
  await fetch("/push/subscription", { method: "DELETE" });
  await subscription.unsubscribe();
}
