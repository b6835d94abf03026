/* Where what waits lies on this device until the server has it: at once in localStorage, and a
   moment later in IndexedDB, which is on the disk when it says so: a flat battery takes nothing,
   and the worker can send what a closed tab left. Each entry lies on its own, so that two tabs
   never write over one another; what was taken off is remembered, so that neither copy brings it
   back. */
(() => {
  "use strict";
  const BASE = "muntin", LEASE_MS = 20000, MOST_GONE = 300;

  const asked = (request) => new Promise((ok, no) => {
    request.onsuccess = () => ok(request.result);
    request.onerror = () => no(request.error);
  });

  let opened = null;
  function base() {
    opened ??= new Promise((ok, no) => {
      const request = indexedDB.open(BASE, 1);
      request.onupgradeneeded = () => {
        request.result.createObjectStore("waiting", { keyPath: "uid" });
        request.result.createObjectStore("done", { keyPath: "uid" });
      };
      request.onsuccess = () => ok(request.result);
      request.onerror = () => no(request.error);
    });
    return opened;
  }

  async function rowsOf(store, name) {
    try {
      const rows = await asked((await base()).transaction(store).objectStore(store).getAll());
      return rows.filter((row) => row.name === name);
    } catch {
      return [];
    }
  }

  async function change(store, put, remove = []) {
    try {
      const deal = (await base()).transaction(store, "readwrite", { durability: "strict" });
      put.forEach((row) => deal.objectStore(store).put(row));
      remove.forEach((uid) => deal.objectStore(store).delete(uid));
      deal.commit?.();
      await new Promise((ok, no) => { deal.oncomplete = ok; deal.onabort = no; });
    } catch {
      // a browser without it: localStorage alone holds what waits
    }
  }

  const newUid = () => [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, "0")).join("");

  const shelves = new Map();

  function shelf(name) {
    if (!shelves.has(name)) shelves.set(name, makeShelf(name));
    return shelves.get(name);
  }

  function makeShelf(name) {
    const START = `${name}/`, GONE = `${name}.gone`;
    /* `stores`: all of it lies on this device */
    const self = { stores: true, read, write, fetchBack, alone, letGo: () => bare.clear() };
    const bare = new Map(); // what the device had no room for: it lives as long as this page

    const gone = () => JSON.parse(localStorage.getItem(GONE) || "[]");

    function kept() {
      const held = Object.keys(localStorage).filter((key) => key.startsWith(START));
      return held.map((key) => JSON.parse(localStorage.getItem(key)));
    }

    function read() {
      let held = [];
      try {
        held = kept().filter(({ uid }) => !bare.has(uid));
      } catch {
        self.stores = false;
      }
      return [...held, ...bare.values()].sort((one, other) => one.n - other.n);
    }

    /* these and no others, in this order: what isn't among them is taken off */
    function write(entries) {
      let n = 0;
      const lines = entries.map((entry) => {
        n = Math.max(n + 1, entry.n || 0);
        return { ...entry, uid: entry.uid || newUid(), n };
      });
      try {
        lay(lines);
        self.stores = bare.size === 0;
      } catch {
        lines.forEach((entry) => bare.set(entry.uid, entry));
        for (const uid of bare.keys()) if (!lines.some((entry) => entry.uid === uid)) bare.delete(uid);
        self.stores = false;
      }
    }

    function put(entry) {
      try {
        localStorage.setItem(START + entry.uid, JSON.stringify(entry));
        bare.delete(entry.uid);
      } catch {
        bare.set(entry.uid, entry);
      }
    }

    function lay(now) {
      const before = new Map(kept().map((entry) => [entry.uid, JSON.stringify(entry)]));
      const changed = now.filter((entry) => bare.has(entry.uid) || before.get(entry.uid) !== JSON.stringify(entry));
      now.forEach(({ uid }) => before.delete(uid));
      const off = [...before.keys()];
      const isOver = (uid) => !now.some((entry) => entry.uid === uid);
      for (const uid of [...bare.keys()].filter(isOver)) { bare.delete(uid); off.push(uid); }
      if (off.length) takeOff(off);
      changed.forEach(put);
      const token = document.querySelector("input[name=csrfmiddlewaretoken]")?.value || "";
      if (changed.length + off.length) change("waiting", changed.map((entry) => ({ uid: entry.uid, name, entry, token })), off);
    }

    /* first remembered, then removed; where no room is left, what is removed makes it */
    function takeOff(off) {
      const remember = () => localStorage.setItem(GONE, JSON.stringify([...gone(), ...off].slice(-MOST_GONE)));
      const remove = () => off.forEach((uid) => localStorage.removeItem(START + uid));
      try {
        remember();
        remove();
      } catch {
        remove();
        try { remember(); } catch { /* the disk forgets it too */ }
      }
    }

    /* what the disk holds and this page doesn't know of; what the worker sent meanwhile; whether
       there is more than before */
    async function fetchBack(settled) {
      const safe = await rowsOf("waiting", name);
      let isMore = false;
      try {
        const known = new Set([...gone(), ...read().map((entry) => entry.uid)]);
        for (const { uid, entry } of safe) {
          if (known.has(uid)) continue;
          put(entry);
          isMore ||= !bare.has(uid);
        }
      } catch {
        return false; // a browser that stores nothing
      }
      if (bare.size) self.stores = false;
      const done = await rowsOf("done", name);
      done.forEach(settled);
      if (done.length) await change("done", [], done.map((row) => row.uid));
      return isMore;
    }

    /* one sender at a time, however many tabs are open */
    async function alone(send) {
      if (navigator.locks) return navigator.locks.request(`muntin send ${name}`, { ifAvailable: true }, (lock) => lock && send());
      const key = `${name}.lease`, own = newUid();
      try {
        const [by, until] = (localStorage.getItem(key) || "").split(" ");
        if (by && Number(until) > Date.now() && Number(until) < Date.now() + LEASE_MS) return null;
        localStorage.setItem(key, `${own} ${Date.now() + LEASE_MS}`);
        await new Promise((ok) => setTimeout(ok, 30));
        if (!localStorage.getItem(key)?.startsWith(own)) return null;
      } catch {
        return send(); // tabs that store nothing share nothing
      }
      try {
        return await send();
      } finally {
        localStorage.removeItem(key);
      }
    }
    return self;
  }

  /* every shelf of this device, whosesoever it is, and what this page alone holds */
  function all() {
    const names = new Set(shelves.keys());
    try {
      for (const key of Object.keys(localStorage)) names.add(key.match(/^muntin(\.jury\.|-waiting-|-clock-)\d+/)?.[0]);
    } catch { /* nothing is stored */ }
    return [...names].filter(Boolean).map((name) => ({ name, entries: shelf(name).read() }));
  }

  async function clear(name) {
    shelves.get(name)?.letGo();
    try {
      for (const key of Object.keys(localStorage)) {
        if (key.startsWith(`${name}/`) || key.startsWith(`${name}.`)) localStorage.removeItem(key);
      }
    } catch {
      return;
    }
    for (const store of ["waiting", "done"]) {
      const rows = await rowsOf(store, name);
      if (rows.length) await change(store, [], rows.map((row) => row.uid));
    }
  }

  /* a random key (UUID 4): what is sent twice under it is kept once. `randomUUID` wants https */
  function newKey() {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    bytes[6] = (bytes[6] & 0x0f) | 0x40;
    bytes[8] = (bytes[8] & 0x3f) | 0x80;
    const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
    return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
  }

  window.muntinShelves = { shelf, all, clear, newKey, senders: [] };
})();
