/* Shows a juror what a scribe takes down of them while it is said: asks every few seconds whether
   there is anything new, and takes nothing from under the hands. jury.js sends what is tapped. */
(() => {
  "use strict";
  const EVERY_MS = 4000, SLOWEST_MS = 60000, LONGEST_WAIT_MS = 8000;
  const section = document.querySelector("[data-spoken]");
  if (!section) return;
  let tag = "", pause = EVERY_MS, timer = 0;

  const isInHand = (note) => note.contains(document.activeElement)
    || note.querySelector("[data-kept] .waiting, details[open]") || note.hasAttribute("data-trouble");

  function lay(html) {
    const fresh = new DOMParser().parseFromString(html, "text/html");
    const list = section.querySelector("[data-spoken-notes]");
    const there = new Set();
    for (const note of fresh.querySelectorAll(".spoken-note")) {
      there.add(note.id);
      const old = document.getElementById(note.id);
      if (!old) list.append(note);
      else if (old.dataset.seen !== note.dataset.seen && !isInHand(old)) old.replaceWith(note);
    }
    for (const old of [...list.children]) if (!there.has(old.id) && !isInHand(old)) old.remove();
    document.getElementById("spoken-title").hidden = list.children.length === 0;
  }

  async function ask() {
    clearTimeout(timer);
    if (document.hidden || !navigator.onLine) return;
    try {
      const answer = await fetch(section.dataset.spoken, {
        headers: { "HX-Request": "true", ...(tag && { "If-None-Match": tag }) },
        signal: AbortSignal.timeout(LONGEST_WAIT_MS),
      });
      if (answer.status === 200) {
        tag = answer.headers.get("ETag") || "";
        lay(await answer.text());
      }
      pause = answer.ok || answer.status === 304 ? EVERY_MS : Math.min(pause * 2, SLOWEST_MS);
    } catch {
      pause = Math.min(pause * 2, SLOWEST_MS);
    }
    timer = setTimeout(ask, pause * (0.8 + Math.random() * 0.4));
  }

  document.addEventListener("visibilitychange", ask);
  window.addEventListener("online", ask);
  timer = setTimeout(ask, EVERY_MS * Math.random());
})();
