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

  function shelf(name) {
    const START = `${name}/`, GONE = `${name}.gone`;
    const self = { stores: true, read, write, fetchBack, alone };
    let lines = [];

    const gone = () => JSON.parse(localStorage.getItem(GONE) || "[]");

    function kept() {
      const held = Object.keys(localStorage).filter((key) => key.startsWith(START));
      return held.map((key) => JSON.parse(localStorage.getItem(key))).sort((one, other) => one.n - other.n);
    }

    function read() {
      try {
        if (self.stores) lines = kept();
      } catch {
        self.stores = false;
      }
      return lines;
    }

    /* these and no others, in this order: what isn't among them is taken off */
    function write(entries) {
      let n = 0;
      lines = entries.map((entry) => {
        n = Math.max(n + 1, entry.n || 0);
        return { ...entry, uid: entry.uid || newUid(), n };
      });
      if (!self.stores) return;
      try {
        lay(lines);
      } catch {
        self.stores = false;
      }
    }

    function lay(now) {
      const before = new Map(kept().map((entry) => [entry.uid, JSON.stringify(entry)]));
      const changed = now.filter((entry) => before.get(entry.uid) !== JSON.stringify(entry));
      for (const entry of changed) localStorage.setItem(START + entry.uid, JSON.stringify(entry));
      now.forEach(({ uid }) => before.delete(uid));
      const off = [...before.keys()];
      if (off.length) localStorage.setItem(GONE, JSON.stringify([...gone(), ...off].slice(-MOST_GONE)));
      for (const uid of off) localStorage.removeItem(START + uid);
      const token = document.querySelector("input[name=csrfmiddlewaretoken]")?.value || "";
      if (changed.length + off.length) change("waiting", changed.map((entry) => ({ uid: entry.uid, name, entry, token })), off);
    }

    /* what the disk holds and this page doesn't know of; what the worker sent meanwhile; whether
       there is more than before */
    async function fetchBack(settled) {
      if (!self.stores) return false;
      const safe = await rowsOf("waiting", name);
      let isMore = false;
      try {
        const known = new Set([...gone(), ...kept().map((entry) => entry.uid)]);
        for (const { uid, entry } of safe) {
          if (known.has(uid)) continue;
          localStorage.setItem(START + uid, JSON.stringify(entry));
          isMore = true;
        }
      } catch {
        self.stores = false;
      }
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

  /* every shelf of this device, whosesoever it is */
  function all() {
    try {
      const names = Object.keys(localStorage).map((key) => key.match(/^muntin(\.jury\.|-waiting-)\d+/)?.[0]);
      return [...new Set(names)].filter(Boolean).map((name) => ({ name, entries: shelf(name).read() }));
    } catch {
      return [];
    }
  }

  async function clear(name) {
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
