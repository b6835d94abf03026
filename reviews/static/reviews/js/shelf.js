/* Where what waits lies on this device until the server has it: at once in localStorage, and a
   moment later in IndexedDB, which is on the disk when it says so: a flat battery takes nothing,
   and the worker can send what a closed tab left. Of two copies the one with more writes counts. */
(() => {
  "use strict";
  const BASE = "muntin", LEASE_MS = 20000;

  const asked = (request) => new Promise((ok, no) => {
    request.onsuccess = () => ok(request.result);
    request.onerror = () => no(request.error);
  });

  let opened = null;
  function base() {
    opened ??= new Promise((ok, no) => {
      const request = indexedDB.open(BASE, 1);
      request.onupgradeneeded = () => {
        request.result.createObjectStore("shelves", { keyPath: "name" });
        request.result.createObjectStore("done", { keyPath: "uid" });
      };
      request.onsuccess = () => ok(request.result);
      request.onerror = () => no(request.error);
    });
    return opened;
  }

  async function rows(store) {
    try {
      return await asked((await base()).transaction(store).objectStore(store).getAll());
    } catch {
      return [];
    }
  }

  async function change(store, how) {
    try {
      const deal = (await base()).transaction(store, "readwrite", { durability: "strict" });
      how(deal.objectStore(store));
      deal.commit?.();
      await new Promise((ok, no) => { deal.oncomplete = ok; deal.onabort = no; });
    } catch {
      // a browser without it: localStorage alone holds what waits
    }
  }

  function shelf(name) {
    const self = { stores: true, read, write, fetchBack, alone };
    let lines = [], soon = null, onDisk = false;

    function kept() {
      const text = localStorage.getItem(name);
      const held = text ? JSON.parse(text) : [];
      return Array.isArray(held) ? { n: 0, entries: held } : held;
    }

    function read() {
      try {
        if (self.stores) lines = kept().entries;
      } catch {
        self.stores = false;
      }
      return lines;
    }

    function write(entries) {
      lines = entries;
      let n = 0;
      try {
        n = kept().n + 1;
        localStorage.setItem(name, JSON.stringify({ n, entries }));
      } catch {
        self.stores = false;
        return;
      }
      const token = document.querySelector("input[name=csrfmiddlewaretoken]")?.value || "";
      soon = { name, n, entries, token };
      if (!onDisk) layDown();
    }

    /* the last of what is typed fast, once the one before it is on the disk */
    async function layDown() {
      onDisk = true;
      while (soon) {
        const row = soon;
        soon = null;
        await change("shelves", (store) => store.put(row));
      }
      onDisk = false;
    }

    /* what the disk holds and this page doesn't know of; what the worker sent meanwhile */
    async function fetchBack(settled) {
      if (!self.stores) return false;
      let isMore = false;
      const safe = (await rows("shelves")).find((row) => row.name === name);
      try {
        isMore = Boolean(safe) && safe.n > kept().n;
        if (isMore) localStorage.setItem(name, JSON.stringify({ n: safe.n, entries: safe.entries }));
      } catch {
        self.stores = false;
      }
      const done = (await rows("done")).filter((row) => row.name === name);
      if (done.length) {
        done.forEach(settled);
        await change("done", (store) => done.forEach((row) => store.delete(row.uid)));
      }
      return isMore;
    }

    /* one sender at a time, however many tabs are open */
    async function alone(send) {
      if (navigator.locks) return navigator.locks.request(`muntin send ${name}`, { ifAvailable: true }, (lock) => lock && send());
      const key = `${name}.lease`, own = String(Math.random());
      try {
        const [by, until] = (localStorage.getItem(key) || "").split(" ");
        if (by && by !== own && Number(until) > Date.now() && Number(until) < Date.now() + LEASE_MS) return null;
        localStorage.setItem(key, `${own} ${Date.now() + LEASE_MS}`);
        await new Promise((ok) => setTimeout(ok, 30));
        if (!localStorage.getItem(key)?.startsWith(own)) return null;
      } catch {
        return send(); // nothing is shared by tabs that store nothing
      }
      try {
        return await send();
      } finally {
        localStorage.removeItem(key);
      }
    }
    return self;
  }

  /* every shelf of this device, whosoever it is */
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
        if (key === name || key.startsWith(`${name}.`)) localStorage.removeItem(key);
      }
    } catch {
      return;
    }
    await change("shelves", (store) => store.delete(name));
    const done = (await rows("done")).filter((row) => row.name === name);
    if (done.length) await change("done", (store) => done.forEach((row) => store.delete(row.uid)));
  }

  window.muntinShelves = { shelf, all, clear, senders: [] };
})();
