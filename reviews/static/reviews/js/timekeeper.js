/* What the timekeeper presses is laid down on this device with its moment by the site's clock, then
   sent. With no network it waits, in its order, and is sent again with the same key, which the site
   takes once, at the moment at which it was pressed. */
(() => {
  "use strict";
  const AGAIN_MS = 3000, PATIENCE_MS = 12000;
  const place = document.querySelector("[data-clock]"), told = document.querySelector("[data-presses]");
  if (!place || !window.muntinClock) return;
  const STORE = `muntin-clock-${document.getElementById("keeper")?.dataset.person || ""}-${place.dataset.clock}`;
  let shelf = [], sending = false;

  function waiting() {
    try {
      return JSON.parse(localStorage.getItem(STORE) || "[]");
    } catch {
      return shelf;
    }
  }

  function lay(entries) {
    shelf = entries;
    try {
      if (entries.length) localStorage.setItem(STORE, JSON.stringify(entries));
      else localStorage.removeItem(STORE);
    } catch { /* this page alone keeps them then */ }
    say();
  }

  const hour = (ms) => new Date(ms).toLocaleTimeString("en-GB");

  function say(words = "") {
    const entries = waiting();
    const list = entries.map((each) => `${each.words} ${hour(each.at)}`).join(", ");
    const waits = entries.length ? `No network: ${entries.length} waiting, sent by themselves: ${list}.` : "";
    told.textContent = [words, waits].filter(Boolean).join(" ");
    told.hidden = !told.textContent;
  }

  async function send(each) {
    const token = document.querySelector("[name=csrfmiddlewaretoken]").value;
    const body = new URLSearchParams([...each.fields, ["csrfmiddlewaretoken", token]]);
    const stop = AbortSignal.timeout(PATIENCE_MS);
    const answer = await fetch(each.to, {method: "POST", body, credentials: "same-origin", signal: stop});
    if (answer.status >= 500) throw new Error(String(answer.status));
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const live = page.querySelector("[data-clock]");
    if (!live) throw new Error("not the clock"); // signed out meanwhile: it waits for the next sign-in
    window.muntinClock.show(place, live.innerHTML, live.dataset.etag || "");
    return [...page.querySelectorAll(".messages li, .message[role=alert], .messages .message")].map((each) => each.textContent.trim()).join(" ");
  }

  async function pump() {
    if (sending || !waiting().length) return;
    sending = true;
    let words = "";
    try {
      while (waiting().length) {
        const [first] = waiting();
        words = [words, await send(first)].filter(Boolean).join(" ");
        lay(waiting().filter((each) => each.key !== first.key));
      }
    } catch {
      setTimeout(pump, AGAIN_MS);
    }
    sending = false;
    say(words);
  }

  document.addEventListener("submit", (event) => {
    const form = event.target.closest("form[data-press]");
    if (!form || event.defaultPrevented) return;
    const at = window.muntinClock.isKnown() ? Math.round(window.muntinClock.now()) : "";
    if (form.elements.at) form.elements.at.value = at;
    event.preventDefault();
    const fields = [...new FormData(form, event.submitter)].filter(([name]) => name !== "csrfmiddlewaretoken");
    const key = fields.find(([name]) => name === "key")[1];
    if (waiting().some((each) => each.key === key)) return;
    const words = event.submitter?.textContent.trim() || form.dataset.press;
    lay([...waiting(), {key, to: form.getAttribute("action"), fields, words, at: at || Date.now()}]);
    pump();
  });

  window.addEventListener("online", pump);
  say();
  pump();
})();
