/* Keeps what is typed. Each form with data-keep is laid into the queue when the focus leaves it,
   after a pause, and when the page goes; queue.js sends it. Nothing typed is thrown away before
   the server has said that it is kept. */
(() => {
  "use strict";
  const PAUSE_MS = 1500, LONGEST_WORDS = 60;
  const queue = window.muntinQueue;
  if (!queue) return;
  document.documentElement.classList.toggle("keeps", queue.stores);
  queue.lost = () => document.documentElement.classList.remove("keeps");
  const timers = new Map();

  const { waiting, lay, change, pump, same } = queue;
  const forms = (root = document) => [...root.querySelectorAll("form[data-keep]")];
  const unitOf = (form) => document.getElementById(form.dataset.keep);
  const fields = (form) => [...form.elements].filter((e) => e.name && !["hidden", "submit"].includes(e.type));
  const values = (form) => Object.fromEntries(fields(form).map((e) => [e.name, e.value]));
  const isTyped = (form) => fields(form).some((e) => e.value !== held(e));
  /* a random UUID (version 4); crypto.randomUUID is there only over https */
  const { newKey } = window.muntinShelves;

  /* what the server last said of a field */
  const held = (field) => field instanceof HTMLSelectElement
    ? ([...field.options].find((o) => o.defaultSelected) || field.options[0] || {}).value
    : field.defaultValue;
  const hold = (field, value) => {
    if (field instanceof HTMLSelectElement) {
      for (const option of field.options) option.defaultSelected = option.value === value;
    } else field.defaultValue = value;
  };

  /* what a change is called where it waits: "Room schedule, R2, Floor: 12" */
  function called(form) {
    const typed = fields(form).filter((e) => e.value !== held(e));
    const field = typed[0] || fields(form)[0];
    const text = field.value.replace(/\s+/g, " ").trim() || "blank";
    const place = [form.dataset.what, field.getAttribute("aria-label")].filter(Boolean).join(", ");
    const more = typed.length > 1 ? ` and ${typed.length - 1} more` : "";
    return `${place}: ${text.length > LONGEST_WORDS ? `${text.slice(0, LONGEST_WORDS)}…` : text}${more}`;
  }

  function entryOf(form) {
    const adds = "adds" in form.dataset;
    const body = new URLSearchParams(new FormData(form));
    const key = adds ? body.get("key") : newKey();
    body.delete("csrfmiddlewaretoken");
    body.set("key", key);
    return {
      unit: form.dataset.keep, key, adds, what: called(form), page: location.pathname,
      place: adds ? "" : placeOf(form.dataset.keep),
      url: form.action, body: body.toString(), tried: false, met: false,
    };
  }

  /* where on its page a row stands: a long schedule has several */
  const placeOf = (unit) => /^row-\d+$/.test(unit) ? `?row=${unit.slice(4)}#${unit}` : "";

  /* only the last of what hasn't been tried yet counts */
  const others = (entry) => waiting().filter((e) => !same(e, entry) || (e.tried && !e.met));

  /* lay down what a form holds, to be sent */
  function put(form, force = false) {
    clearTimeout(timers.get(form.dataset.keep));
    const entry = entryOf(form);
    if (!force && !isTyped(form)) return drop(entry);
    const last = waiting().filter((e) => same(e, entry)).at(-1);
    const says = (e) => { const b = new URLSearchParams(e.body); b.set("key", entry.key); return b.toString() === entry.body; };
    if (!last || last.met || last.draft || !says(last)) {
      lay([...others(entry), entry]);
      unitOf(form)?.classList.add("waits");
    }
    pump();
  }

  /* lay down what is still being typed: a page may be ended without a word */
  function draft(form) {
    const entry = entryOf(form);
    if (isTyped(form)) lay([...others(entry), { ...entry, draft: Date.now() }]);
    else drop(entry);
  }

  const drop = (entry) => lay(waiting().filter((e) => !e.draft || !same(e, entry)));

  queue.taken = (doc, entry, isKept) => {
    const fresh = fragmentOf(doc, entry);
    const version = isKept && fresh?.querySelector('[name="version"]')?.value;
    if (version) {
      lay(waiting().map((later) => {
        if (!same(later, entry)) return later;
        const body = new URLSearchParams(later.body);
        body.set("version", version);
        return { ...later, body: body.toString() };
      }));
    }
    if (location.pathname === entry.page) show(doc, fresh, entry, new URLSearchParams(entry.body), isKept);
  };

  const fragmentOf = (doc, entry) => entry.adds
    ? [...doc.querySelectorAll("tbody[id]")].find((t) => t.id !== "row-new") || doc.getElementById(entry.unit)
    : doc.getElementById(entry.unit) || [...doc.querySelectorAll("tbody.met")][0];

  function show(doc, fresh, entry, sent, isKept) {
    const old = document.getElementById(entry.unit);
    const focused = document.activeElement;
    // somebody filled a column that this page didn't show: what is being typed waits in the queue
    const parts = (row) => row?.querySelectorAll("th[data-part], td[data-part]").length;
    if (old?.matches("tbody") && fresh && parts(old) !== parts(fresh)) return location.reload();
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
      // a row of another page of the schedule is not shown on this one, but where it met another
      const place = document.getElementById("row-new");
      const isHere = entry.adds ? place : !isKept && document.querySelector("table.entry");
      if (isHere && !document.getElementById(fresh.id)) {
        if (place) place.before(fresh); else isHere.append(fresh);
        wake(fresh);
      }
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
    timers.set(form.dataset.keep, setTimeout(() => form.isConnected && put(form), PAUSE_MS));
  }

  document.addEventListener("input", (event) => {
    const form = formOf(event.target);
    if (!form) return;
    draft(form);
    later(form);
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
      draft(form);
    }
    if (event.key === "Enter" && field.matches("table input")) {
      event.preventDefault();
      const row = field.closest("tbody");
      const next = event.shiftKey ? row.previousElementSibling : row.nextElementSibling;
      const same = next?.matches("tbody") && next.querySelector(`[name="${field.name}"]:not([type=hidden])`);
      if (same) { same.focus(); same.select?.(); return; }
      put(form, "adds" in form.dataset);
      const pager = document.querySelector(`a[data-pager][rel="${event.shiftKey ? "prev" : "next"}"]`);
      if (pager) location.assign(`${pager.href}#${event.shiftKey ? "last" : "first"}-${field.name}`);
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
    for (const entry of waiting().filter((e) => e.page === location.pathname && (!e.adds || e.draft))) {
      const form = forms().find((f) => f.dataset.keep === entry.unit);
      if (!form) continue;
      const body = new URLSearchParams(entry.body);
      for (const field of fields(form)) if (body.has(field.name)) field.value = body.get(field.name);
      if (entry.adds) form.elements.key.value = entry.key;
      unitOf(form).classList.add("waits");
    }
  }

  /* a new row is added when it is left: not by a glance at another window */
  queue.leaving = (isForGood) => forms().forEach((form) => {
    if (isForGood || !("adds" in form.dataset)) put(form);
  });

  /* gone back to, a page is as old as when it was left; what waits is put into the new one */
  window.addEventListener("pageshow", (event) => {
    const came = performance.getEntriesByType("navigation")[0]?.type;
    if (event.persisted || came === "back_forward") location.reload();
  });
  restore();

  /* whoever goes down a column over the end of a page is in the same column on the next */
  const [, end, name] = location.hash.match(/^#(first|last)-(cell-\w+)$/) || [];
  if (name) [...document.querySelectorAll(`tbody:not(#row-new) [name="${name}"]`)].at(end === "first" ? 0 : -1)?.focus();
})();
