// The drawing of a jury sheet: a tap puts a flag at its very point, pens draw over it, and a strip
// of it stays in sight. What is drawn goes with a comment, by the comment's own form, so that
// jury.js keeps it as it keeps words. Without this file a tap names its square.
(() => {
  "use strict";
  const drawing = document.getElementById("drawing");
  const stub = drawing?.querySelector("form[data-stub]");
  const own = document.getElementById("own-comments");
  const SVG = "http://www.w3.org/2000/svg";
  const ROWS = "ABCD", COLUMNS = "123456";
  const MOST_STROKES = 60, MOST_POINTS = 400, MOST_IN_ALL = 2000;
  const APART = 0.003, SHORTEST = 0.008, NEAR = 0.02, FLAG_PX = 34, AT_THE_EDGE = 0.9;
  if (!drawing) return;

  const part = (n) => Math.round(Math.min(Math.max(n, 0), 1) * 1e4) / 1e4;
  const zoneAt = ([x, y]) => ROWS[Math.min(Math.floor(y * 4), 3)] + COLUMNS[Math.min(Math.floor(x * 6), 5)];
  const middleOf = (zone) => [part((COLUMNS.indexOf(zone[1]) + 0.5) / 6), part((ROWS.indexOf(zone[0]) + 0.5) / 4)];
  const pointOf = (picture, event) => {
    const box = picture.getBoundingClientRect();
    return [part((event.clientX - box.left) / box.width), part((event.clientY - box.top) / box.height)];
  };
  const numbers = (text) => text.split(/\s+/).filter(Boolean).map(Number);
  const strokesOf = (text) => text.split(";").filter((each) => each.trim());
  const make = (name, more) => {
    const made = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(more)) made.setAttribute(key, value);
    return made;
  };

  // the sheet in hand is the same when one comes back to it

  const SHELF = `muntin.drawing.${location.pathname}`;
  const inSight = () => drawing.querySelector(".sheet-pick:checked")?.nextElementSibling.nextElementSibling;
  try {
    const asked = decodeURIComponent(location.hash.match(/^#pick-(.+)$/)?.[1] || "");
    if (asked) sessionStorage.setItem(SHELF, asked); // from its close view
    const held = asked || sessionStorage.getItem(SHELF);
    const pick = [...drawing.querySelectorAll(".sheet-pick")].find((each) => each.value === held);
    if (pick) pick.checked = true;
  } catch {
    // the first sheet then
  }

  // a strip of it stays in sight; it closes to a line

  const strip = document.querySelector(".strip");
  const picks = drawing.querySelector(".sheet-picks");
  function showStrip() {
    const panel = inSight();
    const picture = panel?.querySelector("img");
    if (!picture) return;
    strip.querySelector("summary").textContent = panel.dataset.title;
    const small = strip.querySelector("img");
    small.src = picture.currentSrc || picture.src;
    small.alt = `${picture.alt}: back to the drawing`;
  }
  if (picks) {
    new IntersectionObserver(([seen]) => {
      strip.hidden = seen.isIntersecting || seen.boundingClientRect.top > 0;
      document.documentElement.toggleAttribute("data-strip", !strip.hidden);
      if (!strip.hidden) showStrip();
    }).observe(picks);
  }
  drawing.addEventListener("change", (event) => {
    if (!event.target.matches(".sheet-pick")) return;
    try {
      sessionStorage.setItem(SHELF, event.target.value);
    } catch {
      // it is chosen anew then
    }
  });

  const squareAt = (picture, point) => picture.querySelector(`.zone-taps button[value$="·${zoneAt(point)}"]`);

  // a flag or its words: each leads to the other, whichever sheet is in hand

  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[href^='#flag-']");
    const panel = link && document.getElementById(link.hash.slice(1))?.closest(".zone-panel");
    if (panel) panel.previousElementSibling.previousElementSibling.checked = true;
  });

  if (!stub) return;
  const pens = stub.querySelector(".pens");
  const told = pens.querySelector(".pen-hand");
  const rub = pens.querySelector("[data-rub]");
  const another = pens.querySelector("[data-another]");
  let tool = "flag";
  let inHand = "";
  let from = null;
  pens.hidden = false;

  const articles = () => [...own.querySelectorAll(".own-comment")];
  const formOf = (article) => article?.querySelector("form[data-keep]");
  const placeOf = (form) => form.elements.place.value.split("·").map((each) => each.trim());
  const isShown = (article) => article.dataset.revision === stub.elements.of.value;
  const held = () => {
    const article = inHand ? document.getElementById(inHand) : null;
    const form = formOf(article);
    return form && isShown(article) && panelFor(placeOf(form)[0]) ? form : null;
  };
  const panelFor = (number) => [...drawing.querySelectorAll(".zone-panel")].find((each) => each.dataset.sheet === number);

  // the layer of this juror, drawn from the forms of the comments

  function layersOf(picture) {
    const layers = picture.querySelector("[data-layers]");
    layers.querySelector(".traced-layers")?.remove();
    const svg = make("svg", { class: "traced-layers", width: "100%", height: "100%", overflow: "visible" });
    const paper = make("svg", { class: "tracing", viewBox: "0 0 1 1", preserveAspectRatio: "none", width: "100%", height: "100%", "data-layer": "own" });
    const flags = make("g", { "data-layer": "flags" });
    for (const [layer, name] of [[paper, "own"], [flags, "flags"]]) {
      layer.toggleAttribute("data-off", !pens.querySelector(`input[value=${name}]`).checked);
    }
    svg.append(paper, flags);
    layers.append(svg);
    return { paper, flags, stood: [] };
  }

  function line(paper, points) {
    for (const name of ["stroke-under", "stroke"]) paper.append(make("polyline", { class: name, points }));
  }

  function flag({ flags, stood }, point, number, article, kind) {
    const [x, y] = point;
    const isBack = x > AT_THE_EDGE;
    const beside = stood.filter(([a, b]) => Math.abs(a - x) < NEAR && Math.abs(b - y) < NEAR).length;
    stood.push(point);
    const width = 18 + 9 * String(number).length;
    const at = make("svg", { x: `${x * 100}%`, y: `${y * 100}%`, overflow: "visible" });
    const link = make("a", {
      class: `sheet-flag${article.id === inHand ? " is-in-hand" : ""}`, id: article.id.replace("comment-", "flag-"), href: `#${article.id}`,
      "aria-label": `Comment ${number} ${kind}`, transform: `translate(${beside * FLAG_PX * (isBack ? -1 : 1)} 0)`,
    });
    const to = isBack ? -1 : 1;
    link.append(make("path", { d: `M0 0V-34H${to * width}l${-to * 6} 9.5l${to * 6} 9.5H0` }));
    const text = make("text", { x: isBack ? 4 - width : 4, y: -19 });
    text.textContent = number;
    link.append(text);
    at.append(link);
    flags.append(at);
  }

  function redraw() {
    const over = new Map();
    for (const panel of drawing.querySelectorAll(".zone-panel")) over.set(panel.dataset.sheet, layersOf(panel.querySelector("[data-picture]")));
    articles().forEach((article, n) => {
      const form = formOf(article);
      article.toggleAttribute("data-in-hand", article.id === inHand);
      if (!form || !isShown(article)) return;
      const [number, zone] = placeOf(form);
      const layer = over.get(number);
      if (!layer) return;
      const strokes = strokesOf(form.elements.strokes.value);
      for (const stroke of strokes) line(layer.paper, stroke);
      const point = numbers(form.elements.point.value);
      const foot = zone ? (point.length && zoneAt(point) === zone ? point : middleOf(zone)) : strokes.length && numbers(strokes[0]).slice(0, 2);
      if (foot) flag(layer, foot, n + 1, article, form.elements.kind.value);
    });
    tell();
  }

  function tell() {
    const form = held();
    const n = articles().findIndex((each) => each.id === inHand) + 1;
    const isDrawing = tool !== "flag";
    told.textContent = isDrawing ? (form ? `Strokes go with comment ${n}.` : "A stroke begins a comment.") : "";
    rub.hidden = !isDrawing || !form || !form.elements.strokes.value;
    another.hidden = !isDrawing || !form;
  }

  function take(id) {
    if (id === inHand) return;
    inHand = id;
    redraw();
  }

  own.addEventListener("focusin", (event) => take(event.target.closest(".own-comment")?.id || inHand));
  own.addEventListener("line-shown", redraw);
  own.addEventListener("comment-begun", (event) => {
    event.target.dataset.revision = stub.elements.of.value;
    inHand = event.target.id;
    redraw();
  });
  own.addEventListener("change", redraw);
  drawing.addEventListener("click", (event) => {
    const link = event.target.closest(".sheet-flag");
    if (link) take(link.getAttribute("href").slice(1));
  });

  // a tap is a flag at its point; with the keys it is in the middle of its square

  stub.addEventListener("click", (event) => {
    const by = event.target.closest("button[name=place]");
    if (!by) return;
    const picture = by.closest("[data-picture]");
    const point = picture && event.detail ? pointOf(picture, event) : null;
    stub.elements.strokes.value = "";
    stub.elements.point.value = point ? point.join(" ") : "";
    if (point && !by.value.endsWith(zoneAt(point))) {
      event.preventDefault(); // within a px of two squares the point decides, not how they are laid
      stub.requestSubmit(squareAt(picture, point));
    }
    if (!picture || tool === "flag" || event.detail) return;
    event.preventDefault(); // a straight stroke from square to square
    const middle = middleOf(by.value.split("·")[1]);
    if (from && from.picture === picture) draw(picture, [from.middle, middle]);
    else told.textContent = `From ${by.value}: choose the square that it goes to.`;
    from = from ? null : { picture, middle };
  });

  const ARROWS = { ArrowLeft: -1, ArrowRight: 1, ArrowUp: -6, ArrowDown: 6 };
  stub.addEventListener("keydown", (event) => {
    const square = event.target.closest(".zone-taps button");
    const all = square && [...square.parentElement.children];
    const next = all?.[all.indexOf(square) + ARROWS[event.key]];
    if (!next) return;
    event.preventDefault();
    next.focus();
  });

  // pens

  function choose(value) {
    tool = value;
    from = null;
    for (const each of pens.querySelectorAll("[data-pen]")) each.setAttribute("aria-pressed", String(each.value === tool));
    for (const picture of drawing.querySelectorAll("[data-picture]")) picture.toggleAttribute("data-drawing", tool !== "flag");
    tell();
  }

  pens.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (button?.matches("[data-pen]")) {
      choose(button.value);
    } else if (button === rub) {
      const form = held();
      const strokes = strokesOf(form.elements.strokes.value).slice(0, -1);
      form.elements.strokes.value = strokes.join(";");
      form.requestSubmit();
      redraw();
    } else if (button === another) {
      take("");
    }
  });

  function draw(picture, points) {
    const number = picture.dataset.picture;
    const step = Math.ceil(points.length / MOST_POINTS);
    const thin = step > 1 ? points.filter((_, n) => n % step === 0 || n === points.length - 1).slice(-MOST_POINTS) : points;
    const stroke = thin.flat().join(" ");
    const form = held();
    const strokes = form ? strokesOf(form.elements.strokes.value) : [];
    const inAll = numbers(strokes.join(" ")).length / 2 + thin.length;
    if (form && placeOf(form)[0] === number && strokes.length < MOST_STROKES && inAll <= MOST_IN_ALL) {
      form.elements.strokes.value = [...strokes, stroke].join(";");
      form.requestSubmit();
      redraw();
      return;
    }
    stub.elements.strokes.value = stroke;
    stub.elements.point.value = thin[0].join(" ");
    stub.requestSubmit(squareAt(picture, thin[0]));
  }

  let pen = null;
  const isFar = ([x, y], [a, b], least) => Math.hypot(x - a, y - b) >= least;

  drawing.addEventListener("pointerdown", (event) => {
    const picture = event.target.closest("[data-drawing]");
    if (!picture || !event.isPrimary || event.button || event.target.closest("a")) return;
    event.preventDefault();
    pen = { picture, live: picture.querySelector(".tracing"), points: [pointOf(picture, event)] };
    picture.setPointerCapture(event.pointerId);
  });

  drawing.addEventListener("pointermove", (event) => {
    if (!pen) return;
    const point = pointOf(pen.picture, event);
    if (tool === "straight") pen.points = [pen.points[0], point];
    else if (isFar(point, pen.points.at(-1), APART)) pen.points.push(point);
    pen.live.querySelectorAll("[data-live]").forEach((each) => each.remove());
    const points = pen.points.flat().join(" ");
    for (const name of ["stroke-under", "stroke"]) pen.live.append(make("polyline", { class: name, points, "data-live": "" }));
  });

  drawing.addEventListener("pointerup", () => {
    const done = pen;
    pen = null;
    if (!done) return;
    const isLong = done.points.some((each) => isFar(each, done.points[0], SHORTEST));
    if (isLong && done.points.length > 1) draw(done.picture, done.points);
    else redraw();
  });
  drawing.addEventListener("pointercancel", () => {
    pen = null;
    redraw();
  });

  choose("flag");
  redraw();
})();
