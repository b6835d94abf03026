/* A sheet's picture in its border of letters, wherever one stands: [data-picture], which names its
   sheet. Places on it are parts of the picture, x from its left and y from its top, 0 to 1.

   What lies over it is drawn into its [data-layers], which is exactly as large as the picture at
   every width and zoom. A layer draws with percentages (in SVG as attributes: <svg x="52%" y="33%"
   overflow="visible">) or in a viewBox of 0 0 1 1 with preserveAspectRatio="none" and strokes that
   don't scale; it takes no tap itself, its links and buttons do.

   Told, each bubbling from the picture with {sheet, zone}:
     muntin:point   {x, y}: somebody tapped there; no tap is one that moved the picture
     muntin:zone    somebody chose a square, by keys or buttons
   Heard, sent to the picture:
     muntin:go      {zone} or {x, y}: mark that square, and bring it into sight
   While the picture has data-drawing, no drag moves it: whoever draws over it has the pointer. */
(() => {
  "use strict";
  const ROWS = "ABCD", COLUMNS = "123456", PATIENCE_MS = 3000;
  const within = (part) => Math.min(Math.max(part, 0), 1 - 1e-9);
  const zoneAt = (x, y) => ROWS[Math.floor(within(y) * 4)] + COLUMNS[Math.floor(within(x) * 6)];
  const isZone = (text) => /^[A-D][1-6]$/.test(text);
  const tell = (picture, name, more) =>
    picture.dispatchEvent(new CustomEvent(name, { bubbles: true, detail: { sheet: picture.dataset.picture, ...more } }));

  function mark(picture, zone) {
    const row = ROWS.indexOf(zone[0]), column = COLUMNS.indexOf(zone[1]);
    let grid = picture.querySelector(".squares");
    if (!grid) {
      grid = document.createElement("div");
      grid.className = "squares";
      picture.querySelector("[data-layers]").before(grid);
    }
    grid.classList.add("is-kept");
    grid.querySelector(".square:not([id])")?.remove();
    const square = document.createElement("span");
    square.className = `square zone-row-${zone[0].toLowerCase()} zone-col-${zone[1]}`;
    grid.append(square);
    for (const strip of picture.parentElement.querySelectorAll(":scope > .zones")) {
      const at = strip.matches(".zones-top, .zones-bottom") ? column : row;
      [...strip.children].forEach((letter, n) => letter.classList.toggle("is-chosen", n === at));
    }
    picture.dataset.zone = zone;
    return square;
  }

  document.addEventListener("muntin:go", (event) => {
    const { zone, x, y } = event.detail;
    if (isZone(zone) || x !== undefined) mark(event.target, zone || zoneAt(x, y));
  });

  document.addEventListener("click", (event) => {
    const picture = event.target.closest?.("[data-picture]");
    if (!picture || event.target.closest("a, button") || event.button) return;
    const box = picture.getBoundingClientRect();
    const x = (event.clientX - box.left) / box.width, y = (event.clientY - box.top) / box.height;
    if (x >= 0 && x <= 1 && y >= 0 && y <= 1) tell(picture, "muntin:point", { x, y, zone: zoneAt(x, y) });
  });

  // a letter, then a digit, while the drawing has the keys
  let letter = "", until = 0;
  document.addEventListener("keydown", (event) => {
    const picture = event.target.closest?.(".zoned-view")?.querySelector("[data-picture]");
    if (!picture || event.ctrlKey || event.metaKey || event.altKey || event.target.matches("input, textarea, select")) return;
    const key = event.key.toUpperCase();
    if (key.length === 1 && ROWS.includes(key)) {
      letter = key;
      until = event.timeStamp + PATIENCE_MS;
    } else if (key.length === 1 && COLUMNS.includes(key) && letter && event.timeStamp < until) {
      event.preventDefault();
      const zone = letter + key;
      letter = "";
      tell(picture, "muntin:go", { zone });
      tell(picture, "muntin:zone", { zone });
    }
  });
})();
