/* One clock for every device of a crit, whatever its own says. The server writes its time into each
   answer; of several round trips the shortest is believed, for it can be wrong by half its length at
   most. Between answers the device counts by its monotonic clock. What stands in [data-live] is asked
   for again and again, and comes only where it has changed. */
(() => {
  "use strict";
  const EVERY_MS = 3000, JITTER_MS = 600, HIDDEN_MS = 15000, LONGEST_MS = 30000, PATIENCE_MS = 8000;
  const FIRST_TRIPS = 5, TRIP_GAP_MS = 150, LOW_MS = 60000, BELIEVED_MS = 600000;
  const places = [...document.querySelectorAll("[data-live]")];
  let offset = null, best = Infinity, measured = 0, heard = null, failures = 0, trips = 0, timer = 0, ticking = 0;

  const clock = (window.muntinClock = {
    /* the site's time in ms since 1970; the device's own until the site was heard */
    now: () => (offset === null ? Date.now() : performance.now() + offset),
    isKnown: () => offset !== null,
    within: () => (offset === null ? null : best / 2),
    heard: () => heard,
    hear, tick,
    renew: () => ask(),
  });

  /* a round trip from `begun` to `ended`, by performance.now(), that said it is `said` */
  function hear(said, begun, ended) {
    if (!Number.isFinite(said)) return;
    const trip = ended - begun, found = said - (begun + ended) / 2;
    const isMoved = offset !== null && Math.abs(found - offset) > (trip + best) / 2 + 50;
    if (isMoved || trip <= best || ended - measured > BELIEVED_MS) [offset, best, measured] = [found, trip, ended];
    heard = performance.now();
  }

  function left(ends) {
    const ms = ends - clock.now(), over = ms < 0;
    const whole = over ? Math.floor(-ms / 1000) : Math.ceil(ms / 1000);
    const words = `${over && whole ? "+" : ""}${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
    return {words, over, low: !over && ms < LOW_MS};
  }

  function tick() {
    clearTimeout(ticking);
    if (clock.isKnown()) {
      for (const place of document.querySelectorAll("[data-ends]")) {
        const now = left(Number(place.dataset.ends));
        if (place.textContent !== now.words) place.textContent = now.words;
        place.classList.toggle("is-over", now.over);
        place.classList.toggle("is-low", now.low);
      }
    }
    say();
    ticking = setTimeout(tick, clock.isKnown() ? 1000 - (clock.now() % 1000) + 5 : 1000);
  }

  function say() {
    const place = document.querySelector("[data-heard]");
    if (!place) return;
    const silent = heard === null ? null : Math.round((performance.now() - heard) / 1000);
    let words = "";
    if (failures && silent !== null) words = `No answer for ${silent} s. The clock goes on; what was pressed since isn’t shown.`;
    else if (failures) words = "The server doesn’t answer. What is on isn’t known.";
    if (place.textContent !== words) place.textContent = words;
    document.documentElement.toggleAttribute("data-unheard", failures > 0);
  }

  /* what is being typed is never swapped away */
  function isBusy(place) {
    const at = document.activeElement;
    return place.contains(at) && at.matches("input:not([type=hidden]), textarea, select");
  }

  function show(place, html, etag) {
    const at = place.contains(document.activeElement) ? document.activeElement.id : "";
    const open = [...place.querySelectorAll("details")].map((each) => each.open);
    place.innerHTML = html;
    [...place.querySelectorAll("details")].forEach((each, n) => { each.open = Boolean(open[n]); });
    place.dataset.etag = etag;
    if (at) document.getElementById(at)?.focus({preventScroll: true});
    place.dispatchEvent(new CustomEvent("muntin:live", {bubbles: true}));
    tick();
  }
  clock.show = show;

  async function poll(place) {
    const begun = performance.now(), stop = AbortSignal.timeout(PATIENCE_MS);
    const etag = place.dataset.etag || "";
    const headers = etag ? {"If-None-Match": etag.startsWith('"') ? etag : `"${etag}"`} : {};
    const answer = await fetch(place.dataset.live, {headers, cache: "no-store", credentials: "same-origin", signal: stop});
    const ended = performance.now(), said = answer.headers.get("Muntin-Clock");
    if (!said || answer.redirected || ![200, 304].includes(answer.status)) throw new Error(String(answer.status));
    hear(Number(said), begun, ended);
    if (answer.status === 200) {
      const html = await answer.text();
      if (isBusy(place)) return;
      show(place, html, answer.headers.get("ETag") || "");
    }
  }

  async function ask() {
    clearTimeout(timer);
    try {
      await Promise.all(places.map(poll));
      failures = 0;
      trips += 1;
    } catch {
      failures += 1;
    }
    say();
    const backoff = Math.min(EVERY_MS * 2 ** failures, LONGEST_MS);
    let wait = failures ? backoff : trips < FIRST_TRIPS ? TRIP_GAP_MS : document.hidden ? HIDDEN_MS : EVERY_MS;
    if (wait >= EVERY_MS) wait += (Math.random() - 0.5) * 2 * JITTER_MS;
    timer = setTimeout(ask, wait);
  }

  if (!places.length) return;
  document.addEventListener("visibilitychange", () => {
    if (document.hidden) return;
    [best, trips] = [Infinity, 0]; // a device that slept may have stopped counting
    ask();
  });
  window.addEventListener("online", ask);
  tick();
  ask();
})();
