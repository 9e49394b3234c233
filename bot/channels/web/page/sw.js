// The service worker: shows what was pushed while nobody looks at the page, and confirms that it did.

addEventListener("push", event => event.waitUntil(take(event.data.json())));

async function take({ id, title, body }) {
  await registration.showNotification(title, { body, tag: `lampwatch-${id}`, icon: "/favicon.ico", requireInteraction: true, vibrate: [300, 200, 300, 200, 300] });
  await fetch("/push/got", { method: "POST", body: JSON.stringify({ id }) });
}

addEventListener("notificationclick", event => {
  event.notification.close();
  event.waitUntil(open());
});

async function open() {                // the page that is open already, else a new one
  const pages = await clients.matchAll({ type: "window" });
  return pages.length ? pages[0].focus() : clients.openWindow("/");
}
