/* Stands between pages and network, so that a crit day goes on without one. What it holds belongs
   to one person: the cache is named by whom each page says that it is for (data-holder), and all
   others are emptied as soon as a page is for somebody else. Pages come from the network first and
   from the cache where none answers in time; issued drawings never change and come from the cache
   first. Answers stay no-store: what is held the worker has put there itself. */
"use strict";
const STATIC = "muntin-static", DAY = "muntin-day ", LIST = "/jury/day/", DEVICE = "/device/";
const NETWORK_MS = 3000, LONGEST_MS = 30000, HAND_OVER_MS = 5000, AT_ONCE = 2;
const MOST_BYTES = 300e6, MOST_OF_ROOM = 0.8;
const HASHED = /\.[0-9a-f]{12}\.\w+$/;
const QUIET = { ignoreVary: true, ignoreSearch: true };

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", (event) => {
  const { request } = event, url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== location.origin) return;
  if (url.pathname.startsWith("/static/")) event.respondWith(part(request));
  else if (request.mode === "navigate") event.respondWith(page(event, url));
  else if (request.destination === "image" && url.pathname.startsWith("/revisions/")) event.respondWith(picture(request, url));
});

self.addEventListener("message", (event) => {
  const { hold, renew: isAsked } = event.data;
  if (hold) event.waitUntil(fetchPage(event, new URL(hold, location.href)).catch(() => {}));
  if (isAsked) event.waitUntil(renew());
});

self.addEventListener("sync", (event) => event.waitUntil(wake()));

// whose it is

const dayName = async () => (await caches.keys()).find((name) => name.startsWith(DAY));

async function day() {
  const name = await dayName();
  if (!name) return null;
  const held = await caches.open(name);
  const list = await held.match(LIST, QUIET);
  if (list) {
    const { ends_at: ends } = await list.json();
    if (ends && Date.now() + Number(list.headers.get("x-offset")) > ends) {
      await caches.delete(name);
      return null;
    }
  }
  return held;
}

let holderNow = null; // of the page asked for last; what is still on its way to another's store is let go
let turns = 0, turnNow = 0;

/* An answer that was asked for before another's page says nothing of whose the device is now. */
async function belongTo(holder, turn) {
  if (turn < turnNow) return holder === holderNow;
  [turnNow, holderNow] = [turn, holder];
  for (const name of await caches.keys()) {
    if (name.startsWith(DAY) && name !== DAY + holder) await caches.delete(name);
  }
  return true;
}

const holderOf = (text) => text.match(/<html[^>]* data-holder="([^"]*)"/)?.[1] ?? null;
const asksToBeHeld = (text) => /<html[^>]* data-hold[\s>]/.test(text);

// what is answered

async function part(request) {
  const held = await (await caches.open(STATIC)).match(request, QUIET);
  if (held && HASHED.test(request.url)) return held;
  try {
    return await fetch(request);
  } catch (gone) {
    if (held) return held;
    throw gone;
  }
}

async function picture(request, url) {
  const held = await (await day())?.match(url.pathname, QUIET);
  return held || fetch(request);
}

async function page(event, url) {
  if (url.pathname.startsWith("/j/") && !url.searchParams.has("over")) {
    const stopped = await handOver(url);
    if (stopped) return stopped;
  }
  const network = fetchPage(event, url, event.request);
  event.waitUntil(network.catch(() => {}));
  const held = await (await day())?.match(url.pathname, QUIET);
  let why = "no network";
  try {
    const answer = await (held ? Promise.race([network, late()]) : network);
    if (answer && (answer.status < 500 || !held)) return answer;
    why = answer ? "the server is out of order" : "no answer from the server yet";
  } catch {
    if (!held) return absent();
  }
  // whoever signed out meanwhile took it along
  return marked(held, why);
}

const late = () => new Promise((ok) => setTimeout(ok, NETWORK_MS, null));

async function marked(held, why) {
  const text = await held.text();
  return new Response(text.replace("<html", `<html data-stored="${why}"`), { headers: held.headers });
}

async function absent() {
  const held = await (await day())?.match(DEVICE, QUIET);
  if (held) return marked(held, "no network, and the page that was asked for is not held");
  const words = "No network, and this page is not held on this device. Go back, or try again.";
  return new Response(`<!doctype html><html lang="en"><meta charset="utf-8"><meta name="color-scheme" content="dark light"><meta name="viewport" content="width=device-width"><title>No network</title><p>${words}`, {
    status: 503, headers: { "Content-Type": "text/html; charset=utf-8" },
  });
}

async function fetchPage(event, url, request = url.href) {
  const turn = ++turns;
  const answer = await fetch(request, typeof request === "string" ? { cache: "no-store" } : undefined);
  if (!answer.headers.get("Content-Type")?.startsWith("text/html")) return answer;
  const text = await answer.clone().text();
  const holder = holderOf(text);
  if (holder !== null && !await belongTo(holder, turn)) return answer;
  if (holder && answer.ok && !url.search && (asksToBeHeld(text) || await isListed(url))) {
    event.waitUntil?.(hold(holder, url, answer, text).catch(() => tell({ trouble: "full" })));
  } else if ([403, 404, 410].includes(answer.status)) {
    await (await day())?.delete(url.pathname, QUIET);
  }
  return answer;
}

async function isListed(url) {
  const list = await (await day())?.match(LIST, QUIET);
  return list ? (await list.json()).held.some((each) => pathOf(each) === url.pathname) : false;
}

async function hold(holder, url, answer, text, tag = "") {
  if (holderNow !== holder) return;
  const cache = await caches.open(DAY + holder);
  await cache.put(url.pathname, stored(answer, text, { "x-tag": tag, "x-bytes": String(text.length) }));
  await gather(text, url);
  if (url.pathname !== DEVICE && !(await cache.match(DEVICE, QUIET))) {
    const device = await fetch(DEVICE, { cache: "no-store" });
    const words = await device.text();
    if (device.ok) await cache.put(DEVICE, stored(device, words, {}));
    await gather(words, url);
  }
  if (holderNow !== holder) await caches.delete(DAY + holder);
}

function stored(answer, body, more) {
  const headers = new Headers(answer.headers);
  for (const name of ["Content-Encoding", "Content-Length"]) headers.delete(name);
  for (const [name, value] of Object.entries(more)) headers.set(name, value);
  return new Response(body, { headers });
}

/* what a page is drawn with, and what its stylesheets ask for in turn */
async function gather(text, base) {
  const cache = await caches.open(STATIC);
  const named = [...text.matchAll(/(?:src|href)="(\/static\/[^"]+)"|url\(["']?([^"')]+)["']?\)/g)];
  for (const [, attribute, inside] of named) {
    const url = new URL(attribute || inside, base);
    if (!url.pathname.startsWith("/static/") || await cache.match(url.href, QUIET)) continue;
    const answer = await fetch(url.href);
    if (!answer.ok) continue;
    await cache.put(url.href, answer.clone());
    if (url.pathname.endsWith(".css")) await gather(await answer.text(), url);
  }
}

// the day's list: fetched whole, then what changed of it

let renewing = null;
let isStale = false;

/* asked for again while it goes on, it goes round once more */
function renew() {
  isStale = renewing !== null;
  renewing ??= renewOnce().catch(() => {}).finally(() => {
    renewing = null;
    if (isStale) renew();
  });
  return renewing;
}

async function renewOnce() {
  const turn = ++turns;
  const answer = await fetch(LIST, { cache: "no-store", signal: AbortSignal.timeout(LONGEST_MS) });
  if (!answer.ok) return;
  const list = await answer.json();
  if (!await belongTo(list.holder, turn)) return;
  const cache = await caches.open(DAY + list.holder);
  const heads = { "x-offset": String(list.now - Date.now()) };
  await cache.put(LIST, new Response(JSON.stringify(list), { headers: heads }));
  const wanted = new Set([LIST, DEVICE, ...list.held.map(pathOf)]);
  for (const request of await cache.keys()) {
    const { pathname } = new URL(request.url);
    if (pathname.match(/^\/(jury|revisions)\//) && !wanted.has(pathname)) await cache.delete(request);
  }
  const room = await navigator.storage?.estimate?.().catch(() => null);
  const most = Math.min(MOST_BYTES, room?.quota ? room.quota * MOST_OF_ROOM : MOST_BYTES);
  const told = { about: "day", held: 0, of: list.held.length, bytes: 0, leftOut: {}, at: list.now };
  const queue = [...list.held];
  const leave = (each) => { told.leftOut[list.kinds[each.kind]] = (told.leftOut[list.kinds[each.kind]] || 0) + 1; };
  await Promise.all(Array.from({ length: AT_ONCE }, async () => {
    let each;
    while ((each = queue.shift())) {
      // another has opened the device meanwhile
      if ((await dayName()) !== DAY + list.holder) return;
      const bytes = told.full ? -1 : await fetchOne(cache, each, list.holder, most - told.bytes);
      if (bytes < 0) { told.full ||= bytes === FULL; leave(each); } else { told.held += 1; told.bytes += bytes; }
      if (told.held % 10 === 0) tell({ ...told, isOn: true });
    }
  }));
  await cache.put(`${LIST}told/`, new Response(JSON.stringify(told)));
  tell(told);
}

const pathOf = (each) => new URL(each.url, location.href).pathname;

const FULL = -1, MISSED = -2;

/* bytes held of one; FULL where no room is left for it, MISSED where it didn't come */
async function fetchOne(cache, { url, tag, kind }, holder, room) {
  try {
    const old = await cache.match(url, QUIET);
    if (old?.headers.get("x-tag") === tag) return Number(old.headers.get("x-bytes"));
    const answer = await fetch(url, { cache: "no-store", redirect: "error", signal: AbortSignal.timeout(LONGEST_MS) });
    if (!answer.ok) return MISSED;
    if (answer.headers.get("Content-Type")?.startsWith("text/html")) {
      const text = await answer.text();
      if (holderOf(text) !== holder) return MISSED;
      if (text.length > room) return FULL;
      await hold(holder, new URL(url, location.href), answer, text, tag);
      return text.length;
    }
    const picture = await answer.blob();
    if (picture.size > room) return FULL;
    await cache.put(url, stored(answer, picture, { "x-tag": tag, "x-kind": kind, "x-bytes": String(picture.size) }));
    return picture.size;
  } catch (trouble) {
    return trouble.name === "QuotaExceededError" ? FULL : MISSED;
  }
}

async function tell(what) {
  for (const client of await self.clients.matchAll({ type: "window" })) client.postMessage(what);
}

// what waits, where no page is open to send it

async function wake() {
  const open = await self.clients.matchAll({ type: "window" });
  if (open.length) return tell({ about: "send" });
  if (await flush()) throw new Error("entries wait still"); // asked again later
}

const asked = (request) => new Promise((ok, no) => {
  request.onsuccess = () => ok(request.result);
  request.onerror = () => no(request.error);
});

async function shelves() {
  const request = indexedDB.open("muntin", 1);
  request.onupgradeneeded = () => request.transaction.abort(); // js/shelf.js makes it
  return asked(request).catch(() => null);
}

/* Send all that jurors left, in order; return how many still wait. */
async function flush() {
  const base = await shelves();
  if (!base) return 0;
  try {
    const rows = (await asked(base.transaction("waiting").objectStore("waiting").getAll()))
      .filter((row) => row.name.startsWith("muntin.jury."))
      .sort((one, other) => one.entry.n - other.entry.n);
    let left = 0;
    for (const name of new Set(rows.map((row) => row.name))) {
      const own = rows.filter((row) => row.name === name);
      left += await navigator.locks.request(`muntin send ${name}`, () => sendAll(base, name, own));
    }
    return left;
  } finally {
    base.close();
  }
}

async function sendAll(base, name, rows) {
  const done = new Set((await asked(base.transaction("done").objectStore("done").getAll())).map((row) => row.uid));
  const seen = new Map(), stuck = new Set();
  let left = 0;
  for (const { entry, token } of rows) {
    if (done.has(entry.uid)) continue;
    const fields = { ...entry.fields };
    const line = `${entry.page} ${entry.address}`;
    if (seen.has(line)) fields.seen = seen.get(line);
    const isKept = !stuck.has(entry.page) && await sendOne(entry, fields, token);
    if (!isKept) { stuck.add(entry.page); left += 1; continue; }
    seen.set(line, isKept.seen);
    const deal = base.transaction("done", "readwrite", { durability: "strict" });
    await asked(deal.objectStore("done").put({ uid: entry.uid, name, page: entry.page, address: entry.address, seen: isKept.seen }));
  }
  return left;
}

async function sendOne(entry, fields, token) {
  const answer = await fetch(entry.url, {
    method: "POST",
    headers: { "HX-Request": "true", "X-CSRFToken": token, "Content-Type": "application/x-www-form-urlencoded" },
    body: new URLSearchParams({ ...fields, set_at: entry.set_at }).toString(),
  }).catch(() => null);
  if (!answer?.ok) return null;
  const text = await answer.text();
  const seen = text.match(new RegExp(`id="${entry.address}"[^>]*data-seen="(\\d+)"([^>]*data-trouble)?`));
  if (entry.locks) return text.includes('id="locked"') ? { seen: "" } : null;
  return seen && !seen[2] ? { seen: seen[1] } : null;
}

/* Another link is opened: what the former juror set goes out first, or is shown. */
async function handOver(url) {
  const held = await day(), list = await held?.match(LIST, QUIET);
  if (!list) return null;
  const code = url.pathname.split("/")[2]?.trim().toLowerCase() || "";
  const digest = [...new Uint8Array(await crypto.subtle.digest("SHA-256", new TextEncoder().encode(code)))]
    .map((byte) => byte.toString(16).padStart(2, "0")).join("");
  if ((await list.json()).link === digest) return null;
  const left = await Promise.race([flush(), new Promise((ok) => setTimeout(ok, HAND_OVER_MS, 1))]);
  return left ? Response.redirect(`${DEVICE}?then=${encodeURIComponent(url.pathname)}`) : null;
}
