/* Lays over a jury page what it doesn't show yet: what waits on this device, and what the server has
   kept since the page was stored. So a page from the store is never older than what was set. */
(() => {
  "use strict";
  const bar = document.querySelector("[data-jury]");
  if (!bar) return;
  const SHOWN = `muntin.jury.${bar.dataset.jury}.shown`;
  const BLANK = "00000000-0000-0000-0000-000000000000";
  const KEPT_HERE = /^(csrfmiddlewaretoken|seen|of)$/;
  const isStored = "stored" in document.documentElement.dataset;
  const { hour } = window.muntinDay;

  function say(root, words) {
    const line = root.querySelector("[data-kept]");
    const note = document.createElement("span");
    note.className = "kept waiting";
    note.textContent = words;
    line?.replaceChildren(note);
  }

  const sayWaiting = (root, entry) => say(root, `Set ${hour(entry.set_at)}, waiting to be sent`);

  function press(root, level) {
    root.querySelectorAll("button[name=level]").forEach((button) => {
      const said = button.role === "radio" ? "aria-checked" : "aria-pressed";
      button.setAttribute(said, String(button.value === level));
    });
    root.dispatchEvent(new CustomEvent("line-shown", { bubbles: true }));
  }

  /* the line of a comment that the site doesn't know of yet */
  function begin(key, fields) {
    const blank = document.getElementById("comment-blank");
    if (!blank) return null;
    const made = document.createElement("template");
    made.innerHTML = blank.innerHTML.replaceAll(BLANK, key);
    const form = made.content.querySelector("form");
    fill(form, fields);
    document.getElementById("own-comments").append(made.content);
    const root = form.closest("[id]");
    root.dispatchEvent(new CustomEvent("comment-begun", { bubbles: true }));
    return form;
  }

  function fill(form, fields) {
    for (const [name, value] of Object.entries(fields)) {
      const field = form.elements[name];
      if (field && !KEPT_HERE.test(name)) field.value = value;
    }
  }

  function lay(entries) {
    for (const entry of entries) {
      if (entry.page !== location.pathname || entry.locks) continue;
      let root = document.getElementById(entry.address);
      if (!root && entry.fields.key) root = begin(entry.fields.key, entry.fields)?.closest("[id]");
      if (!root) continue;
      const form = root.querySelector("form[data-keep]");
      if ("level" in entry.fields) press(root, entry.fields.level);
      else if (form) fill(form, entry.fields);
      sayWaiting(root, entry);
      if (entry.url.endsWith("/remove/")) say(root, "Left off, waiting to be sent");
    }
  }

  // what the server answered since: by page, and by line

  const shown = () => { try { return JSON.parse(localStorage.getItem(SHOWN) || "{}"); } catch { return {}; } };

  function put(all) {
    try {
      localStorage.setItem(SHOWN, JSON.stringify(all));
    } catch {
      try { localStorage.removeItem(SHOWN); } catch { /* nothing is stored */ }
    }
  }

  function remember(page, parts) {
    const all = shown();
    all[page] = { ...all[page], ...Object.fromEntries(parts.map((part) => [part.id, part.outerHTML])) };
    put(all);
  }

  function layShown() {
    const held = shown()[location.pathname] || {};
    let isNewer = false;
    for (const [id, html] of Object.entries(held)) {
      const fresh = document.createRange().createContextualFragment(html).firstElementChild;
      const root = document.getElementById(id);
      const seen = Number(fresh?.dataset.seen);
      if (!seen || seen <= Number(root?.dataset.seen ?? 0) || root?.contains(document.activeElement)) continue;
      isNewer = true;
      if (root) root.replaceWith(fresh);
      else document.getElementById("own-comments")?.append(fresh);
      fresh.dispatchEvent(new CustomEvent("line-shown", { bubbles: true }));
    }
    const state = document.getElementById("lock-state");
    if (isNewer && state && held["lock-state"]) state.outerHTML = held["lock-state"];
  }

  if (isStored) layShown();
  else {
    const { [location.pathname]: old, ...others } = shown();
    if (old) put(others);
  }
  window.addEventListener("storage", (event) => event.key === SHOWN && layShown());

  window.muntinLaid = { lay, remember, begin, press, say, sayWaiting };
})();
