// Sends each tap of a jury sheet as it is made, and holds it on the device until it has arrived.
// Without this file every tap is an ordinary form.
(() => {
  "use strict";
  const bar = document.querySelector("[data-jury]");
  if (!bar) return;

  const SHELF = `muntin.jury.${bar.dataset.jury}`;
  const WAITED_MS = 2000; // longer on its way than that, an entry says when it was set
  const AGAIN_MS = 5000;
  const TYPED_MS = 900;
  const LONGEST_WAIT_MS = 12000;
  const LONGEST_WORDS = 40;
  const MOST_KEPT_ALIVE = 60000; // browsers take 64 KB at most with a page that goes
  const OUT = { 503: "The server's database or store does not answer. ", 507: "The server has no room left. " };
  const told = bar.querySelector("[data-waiting]");
  const of = document.title.split(" · ")[1] || "";

  const store = window.muntinShelves.shelf(SHELF);
  const { read, write: lay } = store;
  const { now, hour, met, lastMet } = window.muntinDay;
  const laid = window.muntinLaid;
  let cause = "";

  function write(entries) {
    lay(entries);
    tell();
  }

  const { newKey } = window.muntinShelves;

  // what waits, and what was refused somewhere that isn't on this page

  function tell() {
    const entries = read();
    const stuck = entries.find((entry) => entry.refused);
    told.hidden = entries.length === 0 && store.stores;
    told.replaceChildren();
    if (stuck) {
      const link = document.createElement("a");
      link.href = stuck.page;
      link.textContent = `Not kept: ${stuck.what}. ${stuck.refused}`;
      told.append(link);
    } else if (entries.length) {
      const named = [...new Set(entries.map((entry) => entry.what))].join("; ");
      const last = lastMet() && entries.some((entry) => entry.tried) ? ` Server last met ${lastMet()}.` : "";
      const room = store.stores ? "" : " This device has no room to hold all of it: leave this page open until it is sent.";
      told.textContent = `${cause}Waiting to be sent: ${entries.length}. ${named.replace(/\.$/, "")}.${last}${room}`;
    } else if (!store.stores) {
      told.textContent = "This browser stores nothing: wait for Kept before going.";
    }
  }

  // a line of another scheme may have the same address on its page
  const isSame = (one, other) => one.page === other.page && one.address === other.address;

  function queue(form, fields, url = form.action) {
    const root = form.closest("[id]");
    const entries = read();
    const page = location.pathname;
    const last = entries.filter((each) => isSame(each, { page, address: root.id })).at(-1);
    delete fields.csrfmiddlewaretoken;
    const what = `${of}, ${root.dataset.what || inWords(fields)}`;
    let entry = last;
    if (last && last.url === url && !last.tried) {
      Object.assign(last.fields, fields, { seen: last.fields.seen });
      Object.assign(last, { what, set_at: now() });
    } else {
      entry = { uid: newKey(), address: root.id, url, page, what, fields, set_at: now(), tried: false };
      entries.push(entry);
    }
    // a lock that waits does so behind all that it locks
    write([...entries.filter((each) => !(each.locks && each.page === page)), ...entries.filter((each) => each.locks && each.page === page)]);
    laid.sayWaiting(root, entry);
    askLater();
    send();
  }

  /* the worker sends what a closed tab left, where the browser lets it */
  function askLater() {
    navigator.serviceWorker?.ready.then((registered) => registered.sync?.register("muntin-send")).catch(() => {});
  }

  function inWords({ kind, place, words, strokes }) {
    const head = [kind, place, strokes && "with strokes"].filter(Boolean).join(" ") || "comment";
    if (!words) return head;
    return `${head}: ${words.length > LONGEST_WORDS ? `${words.slice(0, LONGEST_WORDS)}…` : words}`;
  }

  let sending = null;
  let again = 0;

  const send = () => (sending ??= sendAll().finally(() => (sending = null)));

  async function sendAll() {
    clearTimeout(again);
    const isDone = nextToSend() === undefined || await store.alone(async () => {
      let entry;
      while ((entry = nextToSend())) if (!(await sendOne(entry))) return false;
      return true;
    });
    if (!isDone) again = setTimeout(send, AGAIN_MS);
    tell();
  }

  const passed = new Set();
  const under = new Set();
  const isFree = (entry, all) => !entry.locks || !all.some((each) => each !== entry && each.page === entry.page);
  const nextToSend = () => read().find((entry, _, all) => !passed.has(entry.uid) && !under.has(entry.uid) && isFree(entry, all));

  function mark(uid, change) {
    write(read().map((entry) => (entry.uid === uid ? { ...entry, ...change } : entry)));
  }

  async function sendOne(entry) {
    under.add(entry.uid);
    try {
      return await post(entry);
    } finally {
      under.delete(entry.uid);
    }
  }

  // keepalive: what is on its way arrives although the page goes
  async function post(entry) {
    mark(entry.uid, { tried: true });
    const token = document.querySelector("input[name=csrfmiddlewaretoken]")?.value || "";
    const waited = now() - entry.set_at > WAITED_MS ? { set_at: entry.set_at } : {};
    const body = new URLSearchParams({ ...entry.fields, ...waited }).toString();
    let response;
    let html;
    try {
      response = await fetch(entry.url, {
        method: "POST",
        headers: { "HX-Request": "true", "X-CSRFToken": token, "Content-Type": "application/x-www-form-urlencoded" },
        body,
        keepalive: body.length < MOST_KEPT_ALIVE,
        signal: AbortSignal.timeout(LONGEST_WAIT_MS),
      });
      html = await response.text();
    } catch {
      return false;
    }
    cause = OUT[response.status] || "";
    if (response.status >= 500 || response.status === 429) return false;
    met();
    if (entry.locks) return lockAnswered(entry, response, html);
    const parts = [...new DOMParser().parseFromString(html, "text/html").body.children];
    const fresh = parts.find((part) => part.id === entry.address);
    const isHere = entry.page === location.pathname && document.getElementById(entry.address) !== null;
    if (!fresh || (response.status === 409 && !isHere)) {
      passed.add(entry.uid);
      mark(entry.uid, { refused: refusal(response.status) });
      return true;
    }
    settle(entry, fresh, response.ok);
    for (const part of parts) {
      if (part !== fresh && entry.page === location.pathname) document.getElementById(part.id)?.replaceWith(part.cloneNode(true));
    }
    if (response.ok) {
      laid.remember(entry.page, parts);
      document.dispatchEvent(new CustomEvent("entry-kept", { detail: entry }));
    }
    return true;
  }

  function refusal(status) {
    if (status === 404) return "Open your personal link again.";
    if (status === 403) return "The crit is released, or the page is old: load it again.";
    return "Open the sheet to see why.";
  }

  function settle(entry, fresh, wasKept) {
    const later = takeOff(entry, wasKept && fresh.dataset.seen);
    const root = document.getElementById(entry.address);
    if (!root || entry.page !== location.pathname) return;
    if (later.length) {
      if (wasKept) see(root, fresh.dataset.seen);
      return;
    }
    show(root, fresh.cloneNode(true));
  }

  /* off the shelf; what comes after it on its line has then seen what was kept */
  function takeOff(entry, seen) {
    const rest = read().filter((other) => other.uid !== entry.uid);
    const later = rest.filter((other) => isSame(other, entry));
    if (seen) later.forEach((other) => (other.fields.seen = seen));
    write(rest);
    return later;
  }

  /* what the worker sent while no page was open */
  function sentMeanwhile(done) {
    const later = takeOff(done, done.seen);
    const root = done.page === location.pathname && document.getElementById(done.address);
    if (!root || !done.seen || Number(root.dataset.seen) >= Number(done.seen)) return;
    see(root, done.seen);
    if (!later.length) laid.say(root, "Kept");
  }

  function see(root, seen) {
    root.dataset.seen = seen;
    root.querySelectorAll("input[name=seen]").forEach((input) => (input.value = seen));
  }

  // what is being typed is never taken from under the hands
  function show(root, fresh) {
    const active = document.activeElement;
    const isTyping = root.contains(active) && active.matches("textarea, input, select");
    if (isTyping) {
      root.querySelector("[data-kept]")?.replaceWith(fresh.querySelector("[data-kept]"));
      root.toggleAttribute("data-trouble", fresh.hasAttribute("data-trouble"));
      see(root, fresh.dataset.seen);
      return;
    }
    const held = root.contains(active) ? active.id : "";
    root.replaceWith(fresh);
    fresh.dispatchEvent(new CustomEvent("line-shown", { bubbles: true }));
    if (held) document.getElementById(held)?.focus({ preventScroll: true });
  }

  // taps

  const fieldsOf = (form, by) => Object.fromEntries(new FormData(form, by));

  document.addEventListener("submit", (event) => {
    const form = event.target;
    const by = event.submitter;
    if (form.matches("[data-stub]")) {
      event.preventDefault();
      begin(form, by);
    } else if (form.matches("[data-keep]")) {
      event.preventDefault();
      keep(form, by);
    } else if (form.matches("[data-lock]") && !form.dataset.ready) {
      event.preventDefault();
      lock(form);
    }
  });

  function keep(form, by) {
    clearTimeout(typing.get(form));
    typing.delete(form);
    const root = form.closest("[id]");
    root.removeAttribute("data-trouble");
    if (by?.name === "level") laid.press(root, by.value);
    queue(form, fieldsOf(form, by), by?.getAttribute("formaction") || form.action);
  }

  function begin(form, by) {
    const { kind = "", place = "", point = "", strokes = "" } = fieldsOf(form, by);
    const own = laid.begin(newKey(), { kind, place, point, strokes });
    queue(own, fieldsOf(own));
    form.querySelectorAll("input[name=kind]").forEach((radio) => (radio.checked = false));
  }

  // words are kept as they are typed

  const typing = new Map();

  document.addEventListener("input", (event) => {
    const form = event.target.closest("form[data-typed]");
    if (!form || form.closest("[data-trouble]")) return;
    laid.say(form.closest("[id]"), "Not kept yet");
    clearTimeout(typing.get(form));
    typing.set(form, setTimeout(() => keep(form), TYPED_MS));
  });

  // leaving the field is as good as a pause
  document.addEventListener("focusout", (event) => {
    const form = event.target.closest("form[data-typed]");
    if (form && typing.has(form)) keep(form);
  });

  function keepTyped() {
    for (const form of [...typing.keys()]) keep(form);
  }

  // all at once, for there is no later; but never one before an older of its line has an answer
  function leave() {
    keepTyped();
    const open = read().filter((entry) => !passed.has(entry.uid));
    for (const [at, entry] of open.entries()) {
      const isFirst = !open.slice(0, at).some((other) => isSame(other, entry));
      if (isFirst && isFree(entry, open) && !under.has(entry.uid)) sendOne(entry);
    }
  }

  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") leave();
    else send();
  });
  window.addEventListener("pagehide", leave);
  // gone back to, a sheet is as old as when it was left
  window.addEventListener("pageshow", (event) => event.persisted && location.reload());
  window.addEventListener("online", send);

  /* The lock is laid behind all that it locks; it goes out alone, never over what was refused. */
  function lock(form) {
    keepTyped();
    const page = location.pathname;
    const rest = read().filter((entry) => !(entry.locks && entry.page === page));
    write([...rest, { uid: newKey(), address: "lock", url: form.action, page, what: `${of}, lock`, fields: {}, set_at: now(), locks: true, tried: false }]);
    hadLock = true;
    askLater();
    send();
  }

  function lockAnswered(entry, response, html) {
    const isHere = entry.page === location.pathname;
    if (new DOMParser().parseFromString(html, "text/html").getElementById("locked")) {
      takeOff(entry);
      document.dispatchEvent(new CustomEvent("entry-kept", { detail: entry }));
      if (isHere) {
        history.replaceState(null, "", "#locked");
        location.reload();
      }
    } else if (isHere && response.ok) {
      const form = document.querySelector("[data-lock]");
      takeOff(entry);
      form.dataset.ready = "yes";
      form.requestSubmit(); // its answer says what is missing
    } else {
      passed.add(entry.uid);
      mark(entry.uid, { refused: response.ok ? "A level is missing: open the sheet." : refusal(response.status) });
    }
    return true;
  }

  // another tab sends too: what it sent is off the shelf, and a sheet that it locked looks different
  const locks = () => read().some((entry) => entry.locks && entry.page === location.pathname);
  let hadLock = locks();
  window.addEventListener("storage", () => {
    tell();
    if (hadLock && !locks()) location.reload();
    hadLock = locks();
  });

  window.muntinShelves.senders.push(send);
  tell();
  laid.lay(read());
  store.fetchBack(sentMeanwhile).then(() => {
    laid.lay(read());
    send();
  });
})();
