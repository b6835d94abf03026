/* What every page does for the store of its device: tells the worker what to hold, takes off what is
   another's, keeps the site's time, and lets nobody part from what hasn't been sent unawares. */
(() => {
  "use strict";
  const page = document.documentElement, { holder, stored } = page.dataset;
  const CLOCK = "muntin.clock", MET = "muntin.met", DAY = "muntin-day ";
  const RENEW_MS = 10000, RENEW_ANYHOW_MS = 600000, CHECK_MS = 60000, LONGEST_SENDING_MS = 8000;
  const { all, clear, senders } = window.muntinShelves;
  const own = (name) => (holder || "").split(" ").includes(name.replace("muntin.jury.", "seat-").replace(/^muntin-(waiting|clock)-/, "person-"));
  const canHold = window.isSecureContext && "serviceWorker" in navigator && "caches" in window;

  // the site's time, however wrong the device's

  const remembered = (key) => { try { return localStorage.getItem(key); } catch { return null; } };
  const remember = (key, value) => { try { localStorage.setItem(key, value); } catch { /* as long as the page */ } };
  let clock = JSON.parse(remembered(CLOCK) || "null");
  if (page.dataset.now && stored === undefined) {
    const came = performance.getEntriesByType("navigation")[0]?.responseStart || 0;
    clock = { off: Number(page.dataset.now) * 1000 - (Date.now() - performance.now() + came), zone: Number(page.dataset.zone) };
    remember(CLOCK, JSON.stringify(clock));
  }
  const now = () => {
    const live = window.muntinClock; // measured by several round trips, where a page has it
    return Math.round(live?.isKnown() ? live.now() : Date.now() + (clock?.off ?? 0));
  };
  const hour = (ms) => new Date(Number(ms) + (clock?.zone || 0) * 1000).toISOString().slice(11, 19);
  const met = () => remember(MET, String(now()));
  const lastMet = () => { const at = remembered(MET); return at ? hour(at) : ""; };
  const day = (window.muntinDay = { now, hour, met, lastMet, own, inWords, sendAll, forget });
  if (stored === undefined && holder) met();

  // what this page is

  function sayAll(selector, words) {
    for (const each of document.querySelectorAll(selector)) {
      each.hidden = !words;
      each.textContent = words;
    }
  }

  if (stored !== undefined) {
    const words = `As of ${hour(Number(page.dataset.now) * 1000).slice(0, 5)}: ${stored}.`;
    sayAll(document.querySelector("[data-as-of]") ? "[data-as-of]" : "#held", words);
  }

  // what waits, in words

  const ABSENT = /^(csrfmiddlewaretoken|seen|of|key|version|set_at|point|strokes|slot|at)$/;

  function inWords(entry) {
    const fields = entry.fields || Object.fromEntries(new URLSearchParams(entry.body));
    const said = Object.entries(fields).filter(([name, value]) => !ABSENT.test(name) && value);
    const values = said.map(([name, value]) => `${name.replace(/^cell-/, "")}: ${value}`).join("; ");
    const set = entry.set_at ? `Set ${hour(entry.set_at)}. ` : "";
    return `${set}${entry.what}${values ? ` (${values})` : ""}${entry.refused ? `. Not kept: ${entry.refused}` : ""}`;
  }

  // whose this device's store is

  async function tidy() {
    if (holder === undefined) return;
    for (const { name, entries } of all()) {
      if (own(name)) continue;
      if (!entries.length) await clear(name);
      else try { localStorage.removeItem(`${name}.shown`); } catch { /* nothing is stored */ }
    }
    if (!canHold) return;
    for (const name of await caches.keys()) {
      if (name.startsWith(DAY) && name !== DAY + holder) await caches.delete(name);
    }
  }
  tidy();

  /* Send what waits; return what still does. */
  async function sendAll() {
    const sent = Promise.all(senders.map((send) => send()));
    await Promise.race([sent, new Promise((ok) => setTimeout(ok, LONGEST_SENDING_MS))]);
    return all().filter(({ name, entries }) => own(name) && entries.length);
  }

  async function forget() {
    for (const { name } of all()) if (own(name)) await clear(name);
    if (!canHold) return;
    for (const name of await caches.keys()) if (name.startsWith("muntin-")) await caches.delete(name);
    for (const each of await navigator.serviceWorker.getRegistrations()) await each.unregister();
  }

  document.addEventListener("submit", async (event) => {
    const form = event.target;
    if (!form.matches("[data-parts]") || !holder || form.dataset.ready) return;
    event.preventDefault();
    const waits = await sendAll();
    if (waits.length && !form.elements.let_go?.checked) {
      if (location.pathname !== "/device/") location.assign("/device/");
      else document.dispatchEvent(new CustomEvent("waits-still"));
      return;
    }
    await forget();
    form.dataset.ready = "yes";
    form.requestSubmit();
  });

  // the link's end

  async function checkEnd() {
    const ends = Number(page.dataset.linkEnds) * 1000;
    if (!ends || now() <= ends) return;
    const left = await sendAll();
    if (canHold) await caches.delete(DAY + holder);
    for (const { name } of all()) if (own(name) && !left.some((each) => each.name === name)) await clear(name);
    const unsent = left.flatMap(({ entries }) => entries).map(inWords).join("; ");
    sayAll("[data-as-of], #held", `The link has ended, and its pages are off this device.${unsent ? ` Not sent, to copy for the studio leader: ${unsent}` : ""}`);
  }
  checkEnd();
  setInterval(checkEnd, CHECK_MS);

  // the worker

  const told = document.querySelector("[data-day-said]");
  const say = (words) => { if (told) told.textContent = words; };

  function sayHeld({ held, of, bytes, leftOut, at, isOn }) {
    const left = Object.entries(leftOut).map(([kind, n]) => `${n} ${kind}`).join(", ");
    const size = `${(bytes / 1e6).toFixed(bytes < 1e7 ? 1 : 0)} MB`;
    if (isOn) return say(`Being held on this device: ${held} of ${of}, ${size}.`);
    return say(`The day is on this device as of ${hour(at).slice(0, 5)}: ${held} of ${of} pages and drawings, ${size}.${left ? ` Left out, for want of room or an answer: ${left}.` : " It can be read and set without a network."}`);
  }

  async function start() {
    if (!("hold" in page.dataset)) return;
    if (!canHold) {
      say(window.isSecureContext ? "This browser can't hold the day on this device." : "This page came without https, so that the day can't be held on this device. What is set waits here until it is sent, as long as the page is open or opened again with a network.");
      return;
    }
    navigator.serviceWorker.addEventListener("message", (event) => {
      if (event.data.about === "day") sayHeld(event.data);
      if (event.data.about === "send") senders.forEach((send) => send());
      if (event.data.trouble === "full") sayAll("#held", "This device has no room left: the page is not held on it.");
    });
    if (stored === undefined) {
      try {
        await navigator.serviceWorker.register("/worker.js", { scope: "/" });
      } catch {
        return say("This browser doesn't let the day be held on this device.");
      }
    }
    const { active } = await navigator.serviceWorker.ready;
    const earlier = await caches.match("/jury/day/told/");
    if (earlier && holder.includes("seat-")) sayHeld(await earlier.json());
    const wentThroughIt = performance.getEntriesByType("navigation")[0]?.workerStart > 0;
    if (stored === undefined && !wentThroughIt) active.postMessage({ hold: location.pathname });
    if (holder.includes("seat-")) renewBy(active);
  }

  function renewBy(active) {
    let soon = 0, later = 0, pause = RENEW_MS;
    navigator.serviceWorker.addEventListener("message", ({ data }) => {
      if (data.about !== "day" || data.isOn || data.full || !Object.keys(data.leftOut).length) return;
      later ||= setTimeout(() => { later = 0; renew(); }, pause); // what got no answer is asked for again, ever more seldom
      pause = Math.min(2 * pause, RENEW_ANYHOW_MS);
    });
    const renew = () => { clearTimeout(soon); soon = 0; active.postMessage({ renew: true }); };
    document.addEventListener("entry-kept", () => { soon ||= setTimeout(renew, RENEW_MS); });
    document.addEventListener("visibilitychange", () => document.hidden && soon && renew());
    window.addEventListener("online", renew);
    setInterval(renew, RENEW_ANYHOW_MS);
    renew();
  }
  day.started = start();
})();
