// The keys under the thumb of a jury sheet: the level of the station in hand, and a stub in three
// taps, kind, letter, number, on the sheet in sight. They press what stands on the page, which
// level_section.js draws and jury.js sends; without this file the page has all of it.
(() => {
  "use strict";
  const hand = document.querySelector("[data-hand-keys]");
  const section = document.querySelector("[data-levels]");
  const SHELF = "muntin.keys-away";
  const FAR_PX = 90, SOON_MS = 700, SLOPE = 0.5;

  // a swipe turns to the scheme before or after; the links beside do the same

  let from = null;
  const holds = (target) => target.closest("input, textarea, select, .zoned, .strip, .table-wrap, .thumb-bar");
  document.addEventListener("touchstart", (event) => {
    const [finger, another] = event.touches;
    const isFree = !another && !holds(event.target) && window.visualViewport.scale <= 1.01;
    from = isFree ? { x: finger.clientX, y: finger.clientY, at: event.timeStamp } : null;
  }, { passive: true });
  document.addEventListener("touchend", (event) => {
    if (!from) return;
    const [finger] = event.changedTouches;
    const along = finger.clientX - from.x, across = finger.clientY - from.y;
    const isSwipe = Math.abs(along) > FAR_PX && Math.abs(across) < SLOPE * Math.abs(along) && event.timeStamp - from.at < SOON_MS;
    from = null;
    if (isSwipe) document.querySelector(`.neighbours [rel=${along < 0 ? "next" : "prev"}]`)?.click();
  }, { passive: true });

  if (!hand) return;
  const stub = hand.querySelector(".hand-stub");
  const told = hand.querySelector(".hand-told");

  // levels

  const stations = section ? [...section.querySelectorAll(".judged")] : [];
  const idOf = (station) => station.querySelector(".line").id;
  const setOn = (station) =>
    [...station.querySelectorAll("button[name=level]")].find((each) => (each.getAttribute("aria-checked") ?? each.ariaPressed) === "true")?.value;

  function show() {
    const inHand = stations.find((each) => each.hasAttribute("data-in-hand"));
    for (const key of hand.querySelectorAll("[data-station]")) {
      const level = setOn(stations.find((each) => idOf(each) === key.dataset.station));
      key.querySelector("[data-set-here]").textContent = level === "not-mine" ? "n" : level || "";
      key.toggleAttribute("data-is-set", level !== undefined);
      if (inHand && idOf(inHand) === key.dataset.station) key.setAttribute("aria-current", "step");
      else key.removeAttribute("aria-current");
    }
    if (!inHand) return;
    hand.querySelector(".hand-name").textContent = inHand.querySelector(".line").dataset.what;
    const values = [...inHand.querySelectorAll("button[name=level]")].map((each) => each.value);
    for (const key of hand.querySelectorAll("[data-place]")) {
      key.disabled = !values.includes(key.dataset.place);
      key.setAttribute("aria-pressed", String(key.dataset.place === setOn(inHand)));
    }
  }

  hand.addEventListener("click", (event) => {
    const { station, place } = event.target.closest("button")?.dataset || {};
    if (station) section.dispatchEvent(new CustomEvent("muntin:station", { detail: station }));
    if (place) section.dispatchEvent(new CustomEvent("muntin:level", { detail: place }));
  });
  if (section) {
    section.addEventListener("muntin:levels", show);
    show();
  }

  // a stub: kind, letter, number

  const kinds = stub.querySelector(".hand-kinds"), zones = stub.querySelector(".hand-zones");
  const inSight = () => document.querySelector(".sheet-pick:checked")?.value || "";
  let letter = "";

  function step(kind) {
    const { kind: field, place } = stub.elements;
    field.value = kind;
    place.value = letter = "";
    // the place may as well be tapped on the drawing
    for (const each of document.querySelectorAll("#stub input[name=kind]")) each.checked = each.value === kind;
    kinds.hidden = kind !== "";
    zones.hidden = kind === "";
    for (const row of zones.querySelectorAll("[data-row]")) row.setAttribute("aria-pressed", "false");
    zones.querySelector("[data-stub-so-far]").textContent = [kind, inSight()].join(" ");
    if (document.activeElement?.closest(".hand-stub") || document.activeElement === document.body) {
      (kind ? zones.querySelector("[data-row]") : kinds.firstElementChild).focus({ preventScroll: true });
    }
  }

  function begin(place) {
    const { kind } = stub.elements;
    stub.elements.place.value = place;
    told.textContent = `${kind.value} ${place || "of the whole"} begun`;
    stub.requestSubmit();
    step("");
  }

  stub.addEventListener("click", (event) => {
    const key = event.target.closest("button");
    if (!key) return;
    const { kind, row, column } = key.dataset;
    if (kind && !inSight()) {
      stub.elements.kind.value = kind;
      begin("");
    } else if (kind) {
      step(kind);
    } else if (row) {
      letter = row;
      for (const each of zones.querySelectorAll("[data-row]")) each.setAttribute("aria-pressed", String(each === key));
    } else if (column && letter) {
      begin(`${inSight()}·${letter}${column}`);
    } else if (!column) {
      step("");
    }
  });

  // what was placed on the drawing is begun as well, once jury.js has read its kind
  document.getElementById("stub")?.addEventListener("submit", () => setTimeout(step, 0, ""));

  // the keys fold away, for whoever would rather see the page

  const isAway = () => {
    try {
      return localStorage.getItem(SHELF) === "yes";
    } catch {
      return false;
    }
  };
  const fold = document.createElement("button");
  fold.type = "button";
  fold.textContent = "Keys";
  function put(away) {
    hand.hidden = away;
    document.documentElement.toggleAttribute("data-keys", !away);
    fold.setAttribute("aria-expanded", String(!away));
  }
  fold.addEventListener("click", () => {
    put(!hand.hidden);
    try {
      localStorage.setItem(SHELF, hand.hidden ? "yes" : "no");
    } catch {
      // they are out again on the next sheet
    }
  });
  hand.closest(".thumb-bar").querySelector(".button-row").prepend(fold);
  put(isAway());
})();
