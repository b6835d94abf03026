// Draws the levels of a jury sheet as one section: criteria are stations, levels floors, and a tap
// sets a level mark. The buttons are those of the plain list, which stays where this file doesn't
// come; jury.js sends what they say.
(() => {
  "use strict";
  const section = document.querySelector("[data-levels]");
  if (!section) return;

  const SHELF = "muntin.levels-as-list";
  const MOST_STATIONS = 9; // more don't stand abreast on a tablet: one at a time then, as on a phone
  const grid = section.querySelector(".stations");
  const words = grid.querySelector(".floor-words");
  const ticks = [...grid.querySelectorAll(".station-ticks a")];
  const stations = [...grid.querySelectorAll(".judged")];
  const lineOf = (station) => station.querySelector(".line");
  const placesOf = (station) => [...station.querySelectorAll("button[name=level]")];
  const isSet = (place) => (place.getAttribute("aria-checked") ?? place.ariaPressed) === "true";
  // not mine to judge lies under the ground
  const floorOf = (place) => Number(place.value) || 0;
  const downwards = (one, two) => floorOf(two) - floorOf(one);
  let inHand = stations[0];

  const read = () => {
    try {
      return localStorage.getItem(SHELF) === "yes";
    } catch {
      return false;
    }
  };
  const write = (isList) => {
    try {
      localStorage.setItem(SHELF, isList ? "yes" : "no");
    } catch {
      // it is drawn anew on the next sheet
    }
  };

  // one radio group a station: one tab stop, on what is set or else on the lowest floor
  function dress(station) {
    const places = placesOf(station);
    if (!places.length) return;
    station.querySelector("fieldset").setAttribute("role", "radiogroup");
    const stop = places.find(isSet) || places[0];
    for (const place of places) {
      place.setAttribute("aria-checked", String(isSet(place)));
      place.setAttribute("role", "radio");
      place.removeAttribute("aria-pressed");
      place.tabIndex = place === stop ? 0 : -1;
    }
  }

  function undress(station) {
    station.querySelector("fieldset")?.removeAttribute("role");
    for (const place of placesOf(station)) {
      place.setAttribute("aria-pressed", String(isSet(place)));
      place.removeAttribute("role");
      place.removeAttribute("aria-checked");
      place.removeAttribute("tabindex");
    }
  }

  function letter(tag, words, of = {}) {
    const made = document.createElement(tag);
    made.append(...words);
    Object.assign(made.dataset, of);
    return made;
  }

  const has = (station) => placesOf(station).some(isSet);

  function tell() {
    const set = stations.filter(has).length;
    words.querySelector("[data-set]").textContent = `${set} of ${stations.length} levels set`;
    ticks.forEach((tick, n) => {
      tick.toggleAttribute("data-is-set", has(stations[n]));
      tick.toggleAttribute("data-trouble", stations[n].querySelector(".trouble") !== null);
      tick.toggleAttribute("data-in-hand", stations[n] === inHand);
    });
    section.dispatchEvent(new CustomEvent("muntin:levels"));
  }

  function take(station) {
    inHand = station;
    for (const each of stations) each.toggleAttribute("data-in-hand", each === station);
    const legend = station.querySelector("legend, h3");
    const floors = placesOf(station).sort(downwards).map((place) => {
      const word = place.querySelector(".level-word").textContent;
      const figure = place.querySelector(".level-height")?.textContent || "";
      const says = place.querySelector(".descriptor")?.textContent || "";
      const head = letter("b", figure ? [figure, " ", letter("span", [word])] : [word]);
      return letter("p", [head, " ", letter("span", [says])], { level: place.value });
    });
    const name = letter("p", legend ? legend.cloneNode(true).childNodes : [], { name: "" });
    words.replaceChildren(name, letter("p", [], { set: "" }), ...floors);
    tell();
  }

  function draw(isList) {
    section.toggleAttribute("data-drawn", !isList);
    section.toggleAttribute("data-abreast", !isList && stations.length <= MOST_STATIONS);
    for (const each of [words, grid.querySelector(".floors"), ticks[0].parentElement]) {
      each.hidden = isList;
    }
    stations.forEach(isList ? undress : dress);
    change.textContent = isList ? "Levels as one section" : "Levels as a plain list";
  }

  // taken in hand once the finger is up: nothing moves between press and release
  grid.addEventListener("click", (event) => {
    const tick = event.target.closest(".station-ticks a");
    if (tick) {
      event.preventDefault();
      take(stations[ticks.indexOf(tick)]);
      return;
    }
    const row = event.target.closest(".floor-words [data-level]");
    if (row) placesOf(inHand).find((place) => place.value === row.dataset.level)?.click();
    const station = event.target.closest(".judged");
    if (station && station !== inHand) take(station);
    else if (station && event.detail && event.target.closest("button[name=level]")) goOn();
  });

  // the keys under the thumb, jury_hand.js, ask for a station, or a place on the one in hand
  section.addEventListener("muntin:station", (event) => {
    take(stations.find((each) => lineOf(each).id === event.detail) || inHand);
  });
  section.addEventListener("muntin:level", (event) => {
    const place = placesOf(inHand).find((each) => each.value === event.detail);
    place?.click();
    if (place) goOn(true);
  });

  // where one station stands at a time, a tap goes on to the next that has no level
  function goOn(always = false) {
    const at = stations.indexOf(inHand);
    const isAlone = always || placesOf(stations[at ? 0 : 1] || inHand).every((place) => !place.offsetParent);
    const next = [...stations.slice(at + 1), ...stations.slice(0, at)].find((each) => !has(each));
    if (isAlone && next) take(next);
  }

  grid.addEventListener("focusin", (event) => {
    const station = event.target.closest(".judged");
    if (station && station !== inHand && event.target.matches(":focus-visible")) take(station);
  });

  grid.addEventListener("line-shown", (event) => {
    const station = event.target.closest(".judged");
    if (section.hasAttribute("data-drawn")) dress(station);
    if (station === inHand) take(station);
    else tell();
  });

  const DOWN = { ArrowUp: -1, ArrowDown: 1 };
  const ALONG = { ArrowLeft: -1, ArrowRight: 1 };

  grid.addEventListener("keydown", (event) => {
    const place = event.target.closest("[role=radio]");
    if (!place || event.altKey || event.ctrlKey || event.metaKey) return;
    const station = place.closest(".judged");
    if (event.key in DOWN) {
      const floors = placesOf(station).sort(downwards);
      const next = floors[floors.indexOf(place) + DOWN[event.key]];
      event.preventDefault();
      next?.focus();
      next?.click();
    } else if (event.key in ALONG) {
      const next = stations[stations.indexOf(station) + ALONG[event.key]];
      event.preventDefault();
      if (!next) return;
      take(next);
      next.querySelector("[role=radio][tabindex='0']")?.focus();
    }
  });

  // what is still missing leads to its station
  document.addEventListener("click", (event) => {
    const link = event.target.closest(".missing a");
    const station = link && stations.find((each) => `#${lineOf(each).id}` === link.hash);
    if (!station || !section.hasAttribute("data-drawn")) return;
    event.preventDefault();
    take(station);
    section.scrollIntoView();
    station.querySelector("[role=radio][tabindex='0']")?.focus({ preventScroll: true });
  });

  const change = letter("button", []);
  change.type = "button";
  change.className = "plain";
  change.addEventListener("click", () => {
    const isList = section.hasAttribute("data-drawn");
    write(isList);
    draw(isList);
  });
  section.append(change);

  grid.style.setProperty("--stations", stations.length);
  stations.forEach((each, n) => each.style.setProperty("--at", n + 2));
  ticks.forEach((each, n) => each.style.setProperty("--at", n + 2));
  take(
    stations.find((each) => `#${lineOf(each).id}` === location.hash) ||
      stations.find((each) => each.querySelector(".trouble")) ||
      stations.find((each) => !has(each)) ||
      stations[0],
  );
  draw(read());
})();
