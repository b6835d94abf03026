// Moves a window in the plan by arrow keys or by hand: writes its place into the trial's form,
// which asks for the answer. Without this file the form has a button.
(() => {
  "use strict";
  const form = document.querySelector("[data-trial]");
  if (!form || !window.htmx) return;

  // in US units half inches, written as they are drawn
  const isUS = form.dataset.units === "us";
  const FINE_MM = isUS ? 12.7 : 10;
  const STEP_MM = isUS ? 50.8 : 50;
  const DRAWN = /^\s*(?:(\d+)'-)?(\d+)( 1\/2)?"\s*$/;
  const KEYS = {
    ArrowLeft: { x: -1 },
    ArrowRight: { x: 1 },
    ArrowUp: { y: 1 },
    ArrowDown: { y: -1 },
  };

  const windows = () => [...document.querySelectorAll("#daylight-answer [data-left]")];
  const lineOf = (drawn) =>
    [...form.querySelectorAll("input[name$='-mark']")].find(
      (input) => `Move ${input.value}` === drawn.dataset.said,
    );
  const fieldOf = (drawn) => {
    const line = lineOf(drawn);
    return line && form.elements[line.name.replace("-mark", "-left")];
  };
  // the field may be a step ahead of the drawing
  const mmOf = (drawn) => {
    const text = fieldOf(drawn)?.value || "";
    const inches = isUS && DRAWN.exec(text);
    if (inches) return 25.4 * (12 * (inches[1] || 0) + Number(inches[2]) + (inches[3] ? 0.5 : 0));
    const typed = (isUS ? /^\s*(\d+) mm\s*$/ : /^\s*(\d+)(?: mm)?\s*$/).exec(text);
    return Number(typed ? typed[1] : drawn.dataset.left);
  };
  const written = (mm) => {
    if (!isUS) return String(mm);
    const inches = mm / 25.4;
    const feet = Math.floor(inches / 12 + 1e-9);
    const rest = Math.round(2 * (inches - 12 * feet)) / 2;
    const drawn = `${Math.floor(rest)}${rest % 1 ? " 1/2" : ""}"`;
    return feet ? `${feet}'-${drawn}` : drawn;
  };

  // a window in the plan is a slider along its wall, as far as a screen reader is concerned
  function ready() {
    for (const drawn of windows()) {
      if (!fieldOf(drawn)) continue;
      drawn.setAttribute("tabindex", "0");
      drawn.setAttribute("role", "slider");
      drawn.setAttribute("aria-label", drawn.dataset.said);
      drawn.setAttribute("aria-orientation", drawn.dataset.way.endsWith("x") ? "horizontal" : "vertical");
      drawn.setAttribute("aria-valuemin", "0");
      drawn.setAttribute("aria-valuemax", drawn.dataset.most);
      drawn.setAttribute("aria-valuenow", drawn.dataset.left);
      drawn.setAttribute("aria-valuetext", drawn.dataset.place);
    }
    for (const slot of form.querySelectorAll(".error-slot")) {
      const input = document.getElementById(slot.id.replace(/_error$/, ""));
      if (slot.children.length) input?.setAttribute("aria-invalid", "true");
      else input?.removeAttribute("aria-invalid");
    }
  }

  function move(drawn, to) {
    const field = fieldOf(drawn);
    if (!field) return;
    const least = isUS ? FINE_MM : 1;
    const most = Math.floor(Number(drawn.dataset.most) / least + 1e-9);
    const mm = least * Math.min(most, Math.max(0, Math.round(to / least)));
    if (written(mm) === written(mmOf(drawn))) return;
    field.value = written(mm);
    ask();
  }

  // one question at a time; what is pressed meanwhile is in the next
  let isAsking = false;
  let isAskedAgain = false;
  function ask() {
    if (isAsking) {
      isAskedAgain = true;
      return;
    }
    isAsking = true;
    window.htmx.trigger(form, "nudge");
  }
  document.addEventListener("htmx:afterRequest", (event) => {
    if (event.detail.elt !== form) return;
    isAsking = false;
    if (!isAskedAgain) return;
    isAskedAgain = false;
    ask();
  });

  const signOf = (drawn) => (drawn.dataset.way.startsWith("-") ? -1 : 1);
  const axisOf = (drawn) => drawn.dataset.way.at(-1);

  document.addEventListener("keydown", (event) => {
    const drawn = event.target.closest?.("[data-left]");
    const way = KEYS[event.key];
    if (!drawn || !way || event.ctrlKey || event.altKey || event.metaKey) return;
    const turn = way[axisOf(drawn)];
    if (!turn) return;
    event.preventDefault();
    const step = event.shiftKey ? FINE_MM : STEP_MM;
    move(drawn, mmOf(drawn) + turn * signOf(drawn) * step);
  });

  // by hand: the drawing knows how long a millimetre is

  let held = null;
  document.addEventListener("pointerdown", (event) => {
    const drawn = event.target.closest?.("[data-left]");
    if (!drawn || event.button) return;
    const ruler = drawn.ownerSVGElement;
    const perUnit = Number(drawn.dataset.mm);
    const seen = ruler.getScreenCTM().a;
    held = { drawn, from: mmOf(drawn), x: event.clientX, y: event.clientY, mm: perUnit / seen };
    event.preventDefault();
    drawn.focus({ preventScroll: true });
  });
  document.addEventListener("pointermove", (event) => {
    if (!held) return;
    const away = axisOf(held.drawn) === "x" ? event.clientX - held.x : held.y - event.clientY;
    const to = held.from + away * held.mm * signOf(held.drawn);
    held.to = Math.round(to / FINE_MM) * FINE_MM;
    const now = document.getElementById(held.drawn.id);
    if (now) move(now, held.to);
  });
  for (const end of ["pointerup", "pointercancel"]) {
    document.addEventListener(end, () => (held = null));
  }

  // the window that was moved keeps the focus in the new drawing
  let focused = "";
  document.addEventListener("htmx:beforeSwap", () => {
    const active = document.activeElement;
    focused = active?.closest?.("[data-left]") ? active.id : "";
  });
  // at once, so that no key that is pressed meanwhile goes astray
  document.addEventListener("htmx:afterSwap", () => {
    ready();
    if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
  });

  document.addEventListener("htmx:afterSettle", ready);

  form.querySelector("[data-keys]")?.removeAttribute("hidden");
  ready();
})();
