// Sends each tap of a jury sheet as it is made, and holds it on the device until it has arrived.
// Without this file every tap is an ordinary form.
(() => {
  "use strict";
  const bar = document.querySelector("[data-jury]");
  if (!bar) return;

  const SHELF = `muntin.jury.${bar.dataset.jury}`;
  const BLANK = "00000000-0000-0000-0000-000000000000";
  const AGAIN_MS = 5000;
  const TYPED_MS = 900;
  const LONGEST_WAIT_MS = 12000;
  const LONGEST_WORDS = 40;
  const MOST_KEPT_ALIVE = 60000; // browsers take 64 KB at most with a page that goes
  const OUT = { 503: "The server's database or store does not answer. ", 507: "The server has no room left. " };
  const told = bar.querySelector("[data-waiting]");

  let shelf = [];
  let canStore = true;
  let cause = "";

  const read = () => {
    try {
      if (canStore) shelf = JSON.parse(localStorage.getItem(SHELF) || "[]");
    } catch {
      canStore = false;
    }
    return shelf;
  };
  const write = (entries) => {
    shelf = entries;
    try {
      localStorage.setItem(SHELF, JSON.stringify(entries));
    } catch {
      canStore = false;
    }
    tell();
  };

  const newKey = () => {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    bytes[6] = (bytes[6] & 0x0f) | 0x40;
    bytes[8] = (bytes[8] & 0x3f) | 0x80;
    const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
    return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
  };

  // what waits, and what was refused somewhere that isn't on this page

  function tell() {
    const entries = read();
    const stuck = entries.find((entry) => entry.refused);
    told.hidden = entries.length === 0 && canStore;
    told.replaceChildren();
    if (stuck) {
      const link = document.createElement("a");
      link.href = stuck.page;
      link.textContent = `Not kept: ${stuck.what}. ${stuck.refused}`;
      told.append(link);
    } else if (entries.length) {
      told.textContent = `${cause}Waiting to be sent: ${[...new Set(entries.map((entry) => entry.what))].join("; ")}`;
    } else if (!canStore) {
      told.textContent = "This browser stores nothing: wait for Kept before going.";
    }
  }

  function queue(form, fields, url = form.action) {
    const root = form.closest("[id]");
    const entries = read();
    const before = entries.filter((entry) => entry.address === root.id);
    const last = before[before.length - 1];
    delete fields.csrfmiddlewaretoken;
    const what = `${document.title.split(" · ")[0]}, ${root.dataset.what || inWords(fields)}`;
    if (last && last.url === url && !last.tried) {
      Object.assign(last.fields, fields, { seen: last.fields.seen });
      last.what = what;
    } else {
      const page = location.pathname;
      entries.push({ uid: newKey(), address: root.id, url, page, what, fields, tried: false });
    }
    write(entries);
    say(root, "Waiting to be sent");
    send();
  }

  function inWords({ kind, place, words, strokes }) {
    const head = [kind, place, strokes && "with strokes"].filter(Boolean).join(" ") || "comment";
    if (!words) return head;
    return `${head}: ${words.length > LONGEST_WORDS ? `${words.slice(0, LONGEST_WORDS)}…` : words}`;
  }

  function say(root, words) {
    const line = root.querySelector("[data-kept]");
    const note = document.createElement("span");
    note.className = "kept waiting";
    note.textContent = words;
    line?.replaceChildren(note);
  }

  let sending = null;
  let again = 0;

  const send = () => (sending ??= sendAll().finally(() => (sending = null)));

  async function sendAll() {
    clearTimeout(again);
    let entry;
    while ((entry = nextToSend())) {
      if (!(await sendOne(entry))) {
        again = setTimeout(send, AGAIN_MS);
        break;
      }
    }
    tell();
  }

  const passed = new Set();
  const under = new Set();
  const nextToSend = () => read().find((entry) => !passed.has(entry.uid) && !under.has(entry.uid));

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
    const body = new URLSearchParams(entry.fields).toString();
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
    const parts = [...new DOMParser().parseFromString(html, "text/html").body.children];
    const fresh = parts.find((part) => part.id === entry.address);
    const isHere = document.getElementById(entry.address) !== null;
    if (!fresh || (response.status === 409 && !isHere)) {
      passed.add(entry.uid);
      mark(entry.uid, { refused: refusal(response.status) });
      return true;
    }
    settle(entry, fresh, response.ok);
    for (const part of parts) {
      if (part !== fresh) document.getElementById(part.id)?.replaceWith(document.adoptNode(part));
    }
    return true;
  }

  function refusal(status) {
    if (status === 404) return "Open your personal link again.";
    if (status === 403) return "The crit is released, or the page is old: load it again.";
    return "Open the sheet to see why.";
  }

  function settle(entry, fresh, wasKept) {
    const rest = read().filter((other) => other.uid !== entry.uid);
    const later = rest.filter((other) => other.address === entry.address);
    if (wasKept) later.forEach((other) => (other.fields.seen = fresh.dataset.seen));
    write(rest);
    const root = document.getElementById(entry.address);
    if (!root) return;
    if (later.length) {
      if (wasKept) see(root, fresh.dataset.seen);
      return;
    }
    show(root, fresh);
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
    root.replaceWith(document.adoptNode(fresh));
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
    if (by?.name === "level") {
      root.querySelectorAll("button[name=level]").forEach((button) => {
        const said = button.role === "radio" ? "aria-checked" : "aria-pressed";
        button.setAttribute(said, String(button === by));
      });
      root.dispatchEvent(new CustomEvent("line-shown", { bubbles: true }));
    }
    queue(form, fieldsOf(form, by), by?.getAttribute("formaction") || form.action);
  }

  function begin(form, by) {
    const key = newKey();
    const fields = fieldsOf(form, by);
    const blank = document.getElementById("comment-blank");
    const made = document.createElement("template");
    made.innerHTML = blank.innerHTML.replaceAll(BLANK, key);
    const own = made.content.querySelector("form");
    own.elements.kind.value = fields.kind || "";
    for (const name of ["place", "point", "strokes"]) own.elements[name].value = fields[name] || "";
    document.getElementById("own-comments").append(made.content);
    own.closest("[id]").dispatchEvent(new CustomEvent("comment-begun", { bubbles: true }));
    queue(own, fieldsOf(own));
    form.querySelectorAll("input[name=kind]").forEach((radio) => (radio.checked = false));
  }

  // words are kept as they are typed

  const typing = new Map();

  document.addEventListener("input", (event) => {
    const form = event.target.closest("form[data-typed]");
    if (!form || form.closest("[data-trouble]")) return;
    say(form.closest("[id]"), "Not kept yet");
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
      const isFirst = !open.slice(0, at).some((other) => other.address === entry.address);
      if (isFirst && !under.has(entry.uid)) sendOne(entry);
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

  async function lock(form) {
    keepTyped();
    await send();
    if (read().some((entry) => entry.page === location.pathname)) {
      told.hidden = false;
      told.textContent += `. ${form.dataset.lock}`;
      return;
    }
    form.dataset.ready = "yes";
    setTimeout(() => form.requestSubmit()); // not while the first submit is still being told
  }

  tell();
  send();
})();
