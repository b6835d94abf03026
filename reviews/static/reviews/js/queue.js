/* Sends what was typed, from whatever page is open. A change is laid down on this device, then
   sent; it leaves the queue when the server has said that it is kept. With no network it waits and
   is sent again with the same key, which the server takes once. keep.js fills the queue. */
(() => {
  "use strict";
  const AGAIN_MS = 5000, LONGEST_WAIT_MS = 12000, DRAFT_MS = 3000;
  const OUT = {503: "The server's database or store does not answer.", 507: "The server has no room left."};
  const keeper = document.getElementById("keeper");
  if (!keeper) return;
  const STORE = `muntin-waiting-${keeper.dataset.person}`;
  const gate = document.querySelector("form[data-waits-for]");
  const sent = new Set(); // keys on their way
  let offline = "", cause = "", lost = "", held = false, pumping = false;

  const store = window.muntinShelves.shelf(STORE);
  const queue = (window.muntinQueue = {
    stores: true,
    waiting: () => waiting(), lay, change, pump, same,
    leaving: () => {}, // lays down what is still being typed; true where the page goes for good
    taken: () => {}, // shows an answer on the page it belongs to
    lost: () => {}, // the device takes nothing more
  });

  const waiting = () => structuredClone(store.read());

  /* a browser may refuse to store, or have no room left: the queue then lives as long as the page */
  function lay(entries) {
    store.write(entries);
    if (store.stores || !queue.stores) return;
    queue.stores = false;
    queue.lost();
  }

  function change(key, how) {
    const entries = waiting();
    entries.filter((e) => e.key === key).forEach(how);
    lay(entries);
  }

  /* whether two entries are of one row, or of one statement */
  function same(one, other) {
    return one.unit === other.unit && one.url === other.url;
  }

  function say() {
    const entries = waiting();
    const isHere = (e) => e.page === location.pathname && (e.adds || document.getElementById(e.unit));
    const met = entries.filter((e) => e.met && !isHere(e));
    const rest = entries.filter((e) => !e.met && !e.draft);
    const parts = [];
    if (!queue.stores) parts.push("This browser stores nothing on this device. What is typed is sent as it is left; press Save before going, and see that it says Kept.");
    if (lost) parts.push(lost);
    if (offline && rest.length) parts.push(`${offline} ${rest.length} ${rest.length === 1 ? "change waits" : "changes wait"} on this device and will be sent: ${named(rest)}.`);
    keeper.textContent = parts.join(" ");
    for (const entry of met) {
      const link = document.createElement("a");
      link.href = entry.page + (entry.place || "");
      link.textContent = `Met a newer version: ${entry.what}. Open it.`;
      keeper.append(" ", link);
    }
    if (gate) bar();
  }

  const named = (entries) => entries.map((e) => e.what).join("; ");

  /* what is frozen for good waits for what was typed before it */
  const before = () => waiting().filter((e) => e.page.startsWith(gate.dataset.waitsFor));

  function bar() {
    const entries = before();
    const note = gate.querySelector("[data-waits]");
    note.textContent = entries.length ? "Held until it has arrived:" : "";
    for (const entry of entries) {
      const link = document.createElement("a");
      link.href = entry.page;
      link.textContent = entry.what;
      note.append(" ", link);
    }
    if (entries.length) held = true;
    else if (held) location.reload(); // what is shown here was read before it arrived
  }

  gate?.addEventListener("submit", (event) => {
    if (!before().length) return;
    event.preventDefault();
    pump();
    say();
  });

  const token = () => JSON.parse(document.body.getAttribute("hx-headers") || "{}")["X-CSRFToken"] || "";

  /* keepalive: what is on its way arrives although the page goes */
  async function send(entry) {
    sent.add(entry.key);
    change(entry.key, (e) => { e.tried = true; });
    try {
      return await take(entry, await fetch(entry.url, {
        method: "POST", body: new URLSearchParams(entry.body), redirect: "manual",
        keepalive: true, signal: AbortSignal.timeout(LONGEST_WAIT_MS),
        headers: { "X-CSRFToken": token(), "HX-Request": "true" },
      }));
    } catch (error) {
      cause = error.name === "TimeoutError" ? "No answer from the server." : "No network.";
      return "again";
    } finally {
      sent.delete(entry.key);
    }
  }

  /* a draft is still being typed; an old one was left by a page that had no time to say so. A new
     row is never sent half typed: its own page shows it again */
  const isDue = (e) => !e.met && !sent.has(e.key)
    && !(e.draft && (e.adds || Date.now() - e.draft < DRAFT_MS));

  async function pump() {
    if (pumping) return;
    pumping = true;
    let outcome = "on", next;
    while (outcome === "on" && (next = waiting().find(isDue))) {
      outcome = await send(next);
      offline = outcome === "again" ? cause : waiting().some(isDue) ? offline : "";
      say();
    }
    pumping = false;
    if (outcome === "on") offline = "";
    say();
    if (outcome === "again") setTimeout(pump, AGAIN_MS);
    else if (waiting().some((e) => e.draft && !e.adds && !e.met)) setTimeout(pump, DRAFT_MS);
  }

  async function take(entry, answer) {
    if (answer.status >= 500) {
      cause = OUT[answer.status] || `The server answered ${answer.status}.`;
      return "again";
    }
    if (answer.type === "opaqueredirect" || answer.status === 403 || answer.status === 401) {
      lost = `Nothing more can be kept: sign in again. Until then this stays on this device: ${named(waiting())}.`;
      return "stop";
    }
    if (!answer.ok && answer.status !== 409) {
      change(entry.key, (e) => { e.met = true; });
      lost = `Not kept: ${entry.what}. The server read it and answered ${answer.status}. It stays on this device.`;
      return "on";
    }
    const doc = new DOMParser().parseFromString(await answer.text(), "text/html");
    lost = "";
    window.muntinDay.met();
    if (answer.ok) lay(waiting().filter((e) => e.key !== entry.key));
    else change(entry.key, (e) => { e.met = true; });
    queue.taken(doc, entry, answer.ok);
    return "on";
  }

  /* all at once, for there is no later; but never one before an older of its row has an answer */
  function leave(isForGood) {
    queue.leaving(isForGood);
    const open = waiting().filter((e) => !e.met && !e.draft);
    for (const [at, entry] of open.entries()) {
      if (!sent.has(entry.key) && !open.slice(0, at).some((e) => same(e, entry))) send(entry);
    }
  }

  window.addEventListener("pagehide", () => leave(true));
  document.addEventListener("visibilitychange", () => document.hidden ? leave(false) : pump());
  window.addEventListener("pageshow", (event) => event.persisted && pump());
  window.addEventListener("online", pump);
  window.addEventListener("storage", say);

  // a change that met a newer version is shown again beside it
  lay(waiting().map((e) => (e.page === location.pathname ? { ...e, met: false } : e)));
  say();
  window.muntinShelves.senders.push(pump);
  // after a flat battery the disk knows more than the page
  store.fetchBack(() => {}).then((isMore) => isMore ? location.reload() : pump());
  document.addEventListener("DOMContentLoaded", pump); // keep.js has had its turn
})();
