/* What the timekeeper presses is laid down on this device with its moment by the site's clock, then
   sent. With no network it waits, in its order, and is sent again with the same key, which the site
   takes once, at the moment at which it was pressed. Any page of theirs that has this sends it. */
(() => {
  "use strict";
  const AGAIN_MS = 3000, PATIENCE_MS = 12000;
  const keeper = document.getElementById("keeper");
  if (!keeper) return;
  const place = document.querySelector("[data-clock]"), told = document.querySelector("[data-presses]");
  const store = window.muntinShelves.shelf(`muntin-clock-${keeper.dataset.person}`);
  const { now, hour, met } = window.muntinDay;
  let sending = null;

  function lay(entries) {
    store.write(entries);
    say();
  }

  function say(words = "") {
    if (!told) return;
    const entries = store.read();
    const list = entries.map((each) => `${each.what} ${hour(each.set_at)}`).join(", ");
    const waits = entries.length ? `No network: ${entries.length} waiting, sent by themselves: ${list}.` : "";
    const room = entries.length && !store.stores ? "This device has no room to hold them: leave this page open." : "";
    told.textContent = [words, waits, room].filter(Boolean).join(" ");
    told.hidden = !told.textContent;
  }

  async function send(each) {
    const body = new URLSearchParams(each.body);
    body.set("csrfmiddlewaretoken", document.querySelector("[name=csrfmiddlewaretoken]").value);
    const stop = AbortSignal.timeout(PATIENCE_MS);
    const answer = await fetch(each.url, {method: "POST", body, credentials: "same-origin", signal: stop});
    if (answer.status >= 500) throw new Error(String(answer.status));
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const live = page.querySelector("[data-clock]");
    if (!live) throw new Error("not the clock"); // signed out meanwhile: it waits for the next sign-in
    met();
    if (place?.dataset.clock === live.dataset.clock) window.muntinClock.show(place, live.innerHTML, live.dataset.etag || "");
    return [...page.querySelectorAll(".messages li, .message[role=alert], .messages .message")].map((said) => said.textContent.trim()).join(" ");
  }

  const pump = () => (sending ??= store.alone(sendAll).then(again).finally(() => (sending = null)));

  /* another tab sends; where it goes, this one does */
  function again(isMine) {
    if (isMine === null && store.read().length) setTimeout(pump, AGAIN_MS);
  }

  async function sendAll() {
    let words = "", first;
    try {
      while (([first] = store.read()) && first) {
        words = [words, await send(first)].filter(Boolean).join(" ");
        lay(store.read().filter((each) => each.uid !== first.uid));
      }
    } catch {
      setTimeout(pump, AGAIN_MS);
    }
    say(words);
  }

  document.addEventListener("submit", (event) => {
    const form = event.target.closest("form[data-press]");
    if (!form || event.defaultPrevented || !window.muntinClock) return;
    const at = window.muntinClock.isKnown() ? Math.round(window.muntinClock.now()) : "";
    if (form.elements.at) form.elements.at.value = at;
    event.preventDefault();
    const body = new URLSearchParams(new FormData(form, event.submitter));
    body.delete("csrfmiddlewaretoken");
    const uid = body.get("key");
    if (store.read().some((each) => each.uid === uid)) return;
    const what = event.submitter?.textContent.trim() || form.dataset.press;
    lay([...store.read(), {uid, url: form.getAttribute("action"), body: body.toString(), what, page: location.pathname, set_at: at || now()}]);
    pump();
  });

  window.addEventListener("online", pump);
  window.addEventListener("storage", () => say());
  window.muntinShelves.senders.push(pump);
  say();
  store.fetchBack(() => {}).then(pump);
})();
