/* Keeps what is typed. Each form with data-keep is saved when the focus leaves it and after a
   pause. A save is first laid down on this device, then sent; with no network it waits there and
   is sent again with the same key, which the server takes once. Nothing typed is thrown away
   before the server has said that it is kept. */
(() => {
  "use strict";
  const PAUSE = 1500, AGAIN = 5000;
  const keeper = document.getElementById("keeper");
  if (!keeper) return;
  document.documentElement.classList.add("keeps");
  const STORE = `muntin-waiting-${keeper.dataset.person}`;
  let busy = false, offline = false, lost = "";
  const timers = new Map();

  const waiting = () => JSON.parse(localStorage.getItem(STORE) || "[]");
  const lay = (entries) => localStorage.setItem(STORE, JSON.stringify(entries));
  const forms = (root = document) => [...root.querySelectorAll("form[data-keep]")];
  const unitOf = (form) => document.getElementById(form.dataset.keep);
  const fields = (form) => [...form.elements].filter((e) => e.name && !["hidden", "submit"].includes(e.type));
  const values = (form) => Object.fromEntries(fields(form).map((e) => [e.name, e.value]));
  const isTyped = (form) => fields(form).some((e) => e.value !== held(e));
  const token = () => JSON.parse(document.body.getAttribute("hx-headers") || "{}")["X-CSRFToken"] || "";

  /* a random UUID (version 4); crypto.randomUUID is there only over https */
  const newKey = () => {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    bytes[6] = (bytes[6] & 0x0f) | 0x40;
    bytes[8] = (bytes[8] & 0x3f) | 0x80;
    const hex = [...bytes].map((b) => b.toString(16).padStart(2, "0")).join("");
    return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
  };

  /* what the server last said of a field */
  const held = (field) => field instanceof HTMLSelectElement
    ? ([...field.options].find((o) => o.defaultSelected) || field.options[0] || {}).value
    : field.defaultValue;
  const hold = (field, value) => {
    if (field instanceof HTMLSelectElement) {
      for (const option of field.options) option.defaultSelected = option.value === value;
    } else field.defaultValue = value;
  };

  function say() {
    const entries = waiting();
    const met = entries.filter((e) => e.met);
    const rest = entries.length - met.length;
    const parts = [];
    if (lost) parts.push(lost);
    if (offline && rest) parts.push(`No network. ${rest} ${rest === 1 ? "change waits" : "changes wait"} on this device and will be sent.`);
    const elsewhere = [...new Set(met.filter((e) => e.page !== location.pathname).map((e) => e.page))];
    keeper.textContent = parts.join(" ");
    for (const page of elsewhere) {
      const link = document.createElement("a");
      link.href = page;
      link.textContent = "A change on another page met a newer version. Open it.";
      keeper.append(" ", link);
    }
  }

  /* lay down what a form holds; only the last of what hasn't been tried yet counts */
  function put(form, force = false) {
    clearTimeout(timers.get(form.dataset.keep));
    const unit = form.dataset.keep;
    const adds = "adds" in form.dataset;
    if (!force && !isTyped(form)) return;
    const body = new URLSearchParams(new FormData(form));
    const key = adds ? body.get("key") : newKey();
    body.delete("csrfmiddlewaretoken");
    body.set("key", key);
    let entries = waiting();
    if (entries.some((e) => e.unit === unit && e.body === body.toString())) return;
    const last = entries.filter((e) => e.unit === unit).at(-1);
    const same = (e) => { const b = new URLSearchParams(e.body); b.set("key", key); return b.toString() === body.toString(); };
    if (last && !last.met && same(last)) return pump();
    entries = entries.filter((e) => e.unit !== unit || (e.tried && !e.met));
    entries.push({ unit, key, adds, page: location.pathname, url: form.action, body: body.toString(), tried: false, met: false });
    lay(entries);
    unitOf(form)?.classList.add("waits");
    pump();
  }

  async function pump() {
    if (busy) return;
    const next = waiting().find((e) => !e.met);
    if (!next) { offline = false; say(); return; }
    busy = true;
    change(next.key, (e) => { e.tried = true; });
    let outcome;
    try {
      const answer = await fetch(next.url, {
        method: "POST", body: new URLSearchParams(next.body), redirect: "manual",
        headers: { "X-CSRFToken": token(), "HX-Request": "true" },
      });
      outcome = await take(next, answer);
    } catch { outcome = "again"; }
    busy = false;
    offline = outcome === "again";
    say();
    if (outcome === "on") pump();
    else if (outcome === "again") setTimeout(pump, AGAIN);
  }

  function change(key, how) {
    const entries = waiting();
    entries.filter((e) => e.key === key).forEach(how);
    lay(entries);
  }

  async function take(entry, answer) {
    if (answer.status >= 500) return "again";
    if (answer.type === "opaqueredirect" || answer.status === 403 || answer.status === 401) {
      lost = "Nothing more can be kept: sign in again. What was typed stays on this device until then.";
      return "stop";
    }
    if (!answer.ok && answer.status !== 409) {
      change(entry.key, (e) => { e.met = true; });
      lost = `The server read a change and answered ${answer.status}. What was typed stays on this device.`;
      return "on";
    }
    lost = "";
    const doc = new DOMParser().parseFromString(await answer.text(), "text/html");
    const isKept = answer.ok;
    const sent = new URLSearchParams(entry.body);
    if (isKept) lay(waiting().filter((e) => e.key !== entry.key));
    else change(entry.key, (e) => { e.met = true; });
    const fresh = fragmentOf(doc, entry);
    if (isKept) {
      const version = fresh?.querySelector('[name="version"]')?.value;
      const entries = waiting();
      for (const later of entries.filter((e) => e.unit === entry.unit && version)) {
        const body = new URLSearchParams(later.body);
        body.set("version", version);
        later.body = body.toString();
      }
      lay(entries);
    }
    if (location.pathname === entry.page) show(doc, fresh, entry, sent, isKept);
    return "on";
  }

  const fragmentOf = (doc, entry) => entry.adds
    ? [...doc.querySelectorAll("tbody[id]")].find((t) => t.id !== "row-new") || doc.getElementById(entry.unit)
    : doc.getElementById(entry.unit) || [...doc.querySelectorAll("tbody.met")][0];

  function show(doc, fresh, entry, sent, isKept) {
    const old = document.getElementById(entry.unit);
    const focused = document.activeElement;
    if (old && fresh) {
      const form = forms(old)[0];
      const typed = form ? values(form) : {};
      const inside = old.contains(focused);
      if (entry.adds && old.id === "row-new") {
        old.before(fresh);
        const again = doc.getElementById("row-new");
        if (again) { old.replaceWith(again); wake(again); if (inside) first(again)?.focus(); }
      } else if (inside && isKept) { mend(old, fresh, focused); }
      else { old.replaceWith(fresh); }
      const now = document.getElementById(fresh.id);
      wake(now);
      const nowForm = now && forms(now)[0];
      for (const field of nowForm ? fields(nowForm) : []) {
        // typed since it was sent: stays, and is kept in its turn
        if (field.name in typed && typed[field.name] !== sent.get(field.name) && field.value !== typed[field.name]) field.value = typed[field.name];
      }
      if (!isKept) now?.querySelector("[role=alert]")?.scrollIntoView({ block: "nearest" });
      if (nowForm && isTyped(nowForm) && isKept) later(nowForm);
    } else if (fresh && !old) {
      const place = document.getElementById("row-new");
      if (place && !document.getElementById(fresh.id)) { place.before(fresh); wake(fresh); }
    }
    for (const part of doc.querySelectorAll("[data-follow]")) {
      const there = document.getElementById(part.id);
      if (there && !there.contains(document.activeElement)) { there.replaceWith(part); wake(part); }
    }
  }

  /* the field that has the focus stays; all round it is renewed */
  function mend(old, fresh, focused) {
    for (const part of old.querySelectorAll("[data-part]")) {
      const other = fresh.querySelector(`[data-part="${part.dataset.part}"]`);
      if (!other) continue;
      if (!part.contains(focused)) { part.replaceWith(other); continue; }
      part.className = other.className;
      const told = other.querySelector("input, select, textarea");
      if (told && focused.name === told.name) {
        hold(focused, told.value);
        if (told.hasAttribute("aria-invalid")) focused.setAttribute("aria-invalid", "true");
        else focused.removeAttribute("aria-invalid");
      }
      part.querySelectorAll(".note").forEach((n) => n.remove());
      part.append(...other.querySelectorAll(".note"));
    }
    old.querySelectorAll("[data-extra]").forEach((n) => n.remove());
    const extra = [...fresh.querySelectorAll("[data-extra]")];
    (extra[0]?.matches("tr") ? old : old).append(...extra);
    old.className = fresh.className;
  }

  const first = (root) => root.querySelector("input:not([type=hidden]), select, textarea");
  const wake = (root) => { if (root && window.htmx) window.htmx.process(root); };
  const formOf = (target) => target.form?.dataset.keep ? target.form : null;

  function later(form) {
    clearTimeout(timers.get(form.dataset.keep));
    if ("adds" in form.dataset && form.dataset.keep === "row-new") return; // a row is added when it is left
    timers.set(form.dataset.keep, setTimeout(() => form.isConnected && put(form), PAUSE));
  }

  document.addEventListener("input", (event) => {
    const form = formOf(event.target);
    if (form) later(form);
  });

  document.addEventListener("focusout", (event) => {
    const form = formOf(event.target);
    if (!form) return;
    setTimeout(() => { if (!unitOf(form)?.contains(document.activeElement) && form.isConnected) put(form); });
  });

  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!form.dataset?.keep || event.submitter?.hasAttribute("formaction")) return;
    event.preventDefault();
    put(form, true);
  });

  document.addEventListener("keydown", (event) => {
    const field = event.target, form = field.form && formOf(field);
    if (!form || event.isComposing) return;
    if (event.key === "Escape" && field.value !== held(field)) {
      event.preventDefault();
      field.value = held(field);
      clearTimeout(timers.get(form.dataset.keep));
    }
    if (event.key === "Enter" && field.matches("table input")) {
      event.preventDefault();
      const row = field.closest("tbody");
      const next = event.shiftKey ? row.previousElementSibling : row.nextElementSibling;
      const same = next?.matches("tbody") && next.querySelector(`[name="${field.name}"]:not([type=hidden])`);
      if (same) { same.focus(); same.select?.(); } else put(form, "adds" in form.dataset);
    }
  });

  document.addEventListener("click", (event) => {
    const leave = event.target.closest?.("[data-leave]");
    if (!leave) return;
    lay(waiting().filter((e) => !(e.met && (e.unit === leave.dataset.leave || leave.dataset.leave === "row-new"))));
    event.preventDefault();
    location.assign(leave.href);
    location.reload();
  });

  /* what a request of htmx brings is renewed all at once: unsent typing is put back into it */
  document.addEventListener("htmx:beforeSwap", (event) => {
    if (event.detail.xhr.status === 409) { event.detail.shouldSwap = true; event.detail.isError = false; }
    for (const form of forms()) if (!("adds" in form.dataset)) put(form);
  });
  document.addEventListener("htmx:afterSettle", () => { restore(); pump(); });

  function restore() {
    for (const entry of waiting().filter((e) => e.page === location.pathname && !e.adds)) {
      const form = forms().find((f) => f.dataset.keep === entry.unit);
      if (!form) continue;
      const body = new URLSearchParams(entry.body);
      for (const field of fields(form)) if (body.has(field.name)) field.value = body.get(field.name);
      unitOf(form).classList.add("waits");
    }
  }

  window.addEventListener("online", pump);
  window.addEventListener("pagehide", () => forms().forEach((form) => { if (!("adds" in form.dataset)) put(form); }));
  // a change that met a newer version is shown again beside it
  for (const entry of waiting()) if (entry.met && entry.page === location.pathname) change(entry.key, (e) => { e.met = false; });
  restore();
  pump();
})();
