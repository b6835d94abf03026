/* A sheet seen close. The drawing lies in a box that scrolls by itself, so that fingers, arrow keys
   and bars move it as they move anything; how large it is decides one number, CSS px a px of the
   picture. The small size is seen first, the middle size stands over it where more is wanted, and
   tiles of what is in sight come over both once it rests. */
(() => {
  "use strict";
  const STEP = 1.3, REST_MS = 120, MOST_TILES = 80, DRAG_PX = 4, MM_PX = 96 / 25.4, FOOT_M = 0.3048;
  const BAR_PX = [70, 180], MOST_DOTS = 4;

  function open(view) {
    const { width, height, first, stands, middle, full, tiles: from, tile: tilePx, levels, mm, acrossM, bars } = view.dataset;
    const picture = view.querySelector("[data-picture]"), root = view.closest("[data-close]");
    const size = { width: +width, height: +height };
    let zoom = 1, isFit = true, rests = 0;

    const link = picture.querySelector(":scope > a");
    link.replaceWith(...link.childNodes);
    const [stand, tiles] = ["tiles", "tiles"].map((name) => Object.assign(document.createElement("div"), { className: name }));
    const small = picture.querySelector("img");
    small.after(stand, tiles);
    small.addEventListener("load", () => rest());
    view.classList.add("is-open");
    picture.querySelector(".squares").replaceChildren(); // the script goes to squares, not the browser

    const dots = () => window.devicePixelRatio || 1;
    const most = () => Math.max(MOST_DOTS / dots(), 2 * fitting());
    function fitting() {
      const edge = 2 * parseFloat(getComputedStyle(view.querySelector(".zones-left")).width);
      const high = parseFloat(getComputedStyle(view).maxHeight) || window.innerHeight;
      return Math.max(Math.min((view.clientWidth - edge) / size.width, (high - edge) / size.height), 1e-4);
    }

    function lay() {
      picture.style.width = `${size.width * zoom}px`;
      picture.style.height = `${size.height * zoom}px`;
      small.style.height = "100%";
      bar();
      const said = root.querySelector("[data-zoomed]");
      if (said) said.value = `${Math.round(zoom * dots() * 100)} % of the picture’s dots`;
      rest();
    }

    /* Hold what lies under a point of the window, by default the middle of the box, and be as large. */
    function zoomTo(to, x, y) {
      const box = view.getBoundingClientRect(), was = picture.getBoundingClientRect();
      const atX = x ?? box.left + view.clientWidth / 2, atY = y ?? box.top + view.clientHeight / 2;
      const partX = (atX - was.left) / was.width, partY = (atY - was.top) / was.height;
      isFit = to <= fitting() * 1.001;
      zoom = isFit ? fitting() : Math.min(to, most());
      lay();
      const now = picture.getBoundingClientRect();
      view.scrollLeft += now.left + partX * now.width - atX;
      view.scrollTop += now.top + partY * now.height - atY;
    }

    function bring(x, y) {
      const now = picture.getBoundingClientRect(), box = view.getBoundingClientRect();
      view.scrollLeft += now.left + x * now.width - box.left - view.clientWidth / 2;
      view.scrollTop += now.top + y * now.height - box.top - view.clientHeight / 2;
    }

    const kinds = {
      in: () => zoomTo(zoom * STEP),
      out: () => zoomTo(zoom / STEP),
      fit: () => zoomTo(0),
      one: () => zoomTo(1 / dots()),
      true: () => zoomTo((+mm * MM_PX) / size.width),
    };

    // tiles

    function rest() {
      clearTimeout(rests);
      rests = setTimeout(fetchTiles, REST_MS);
    }

    function fetchTiles() {
      const needed = zoom * dots() * size.width;
      if (needed > +first * 1.05 && !stand.firstChild && small.complete) {
        stand.append(Object.assign(document.createElement("img"), { alt: "", decoding: "async", draggable: false, src: middle }));
      }
      if (needed <= +stands * 1.05) return void tiles.replaceChildren();
      const of = from ? Math.min(Math.max(Math.floor(-Math.log2(zoom * dots()) + 1e-6), 0), levels - 1) : 0;
      const wanted = from ? inSight(of) : [[full, 0, 0, size.width, size.height]];
      const kept = new Map([...tiles.children].map((each) => [each.getAttribute("src"), each]));
      const now = new Set(wanted.map(([address]) => address));
      for (const [address, left, top, across, high] of wanted) {
        if (kept.has(address)) continue;
        const each = document.createElement("img");
        Object.assign(each, { alt: "", decoding: "async", draggable: false });
        each.dataset.level = of;
        const percent = (part, whole) => `${(part / whole) * 100}%`;
        each.style.left = percent(left, size.width);
        each.style.top = percent(top, size.height);
        each.style.width = percent(across, size.width);
        each.style.height = percent(high, size.height);
        each.onerror = () => each.remove();
        each.onload = () => settle(of, now);
        each.src = address;
        tiles.append(each);
      }
      settle(of, now);
    }

    /* Take away what is of another size once all in sight has come, and what is far from sight. */
    function settle(of, now) {
      const all = [...tiles.children];
      const isWhole = all.every((each) => !now.has(each.getAttribute("src")) || each.complete);
      const others = all.filter((each) => !now.has(each.getAttribute("src")));
      const gone = others.filter((each) => isWhole && +each.dataset.level !== of);
      const far = all.length - gone.length > MOST_TILES ? others.filter((each) => !gone.includes(each)) : [];
      for (const each of [...gone, ...far]) each.remove();
    }

    function inSight(of) {
      const box = view.getBoundingClientRect(), now = picture.getBoundingClientRect();
      const px = tilePx * 2 ** of, scale = size.width / now.width;
      const part = (at, least, whole) => Math.min(Math.max(Math.floor(((at - least) * scale) / px), 0), Math.ceil(whole / px) - 1);
      const found = [];
      for (let row = part(box.top, now.top, size.height); row <= part(box.bottom, now.top, size.height); row += 1) {
        for (let column = part(box.left, now.left, size.width); column <= part(box.right, now.left, size.width); column += 1) {
          const left = column * px, top = row * px;
          found.push([
            `${from}${of}/${column}-${row}.jpg`, left, top,
            Math.min(px, size.width - left), Math.min(px, size.height - top),
          ]);
        }
      }
      return found;
    }

    // lengths

    function bar() {
      const stand = root.querySelector(".view-bar");
      if (!stand) return;
      const unit = bars === "ft" ? FOOT_M : 1, pxPer = (size.width * zoom * unit) / +acrossM;
      const lengths = [];
      for (let e = -3; e < 5; e += 1) for (const n of [1, 2, 5]) lengths.push(n * 10 ** e);
      const length = lengths.filter((n) => n * pxPer <= BAR_PX[1]).pop() ?? lengths[0];
      stand.hidden = false;
      stand.querySelector(".bar-line").style.width = `${length * pxPer}px`;
      stand.querySelector("output").value = `This bar is ${+length.toPrecision(1)} ${bars}`;
    }

    // by hand

    view.addEventListener("wheel", (event) => {
      const isMeant = event.ctrlKey || event.metaKey || (view.contains(document.activeElement) && !event.shiftKey && !event.deltaX);
      if (!isMeant || !event.deltaY) return;
      if (isFit && event.deltaY > 0 && !event.ctrlKey && !event.metaKey) return; // the page goes on
      event.preventDefault();
      const lines = event.deltaMode ? 20 : 1;
      zoomTo(zoom * Math.exp(-Math.max(-120, Math.min(120, event.deltaY * lines)) / 400), event.clientX, event.clientY);
    }, { passive: false });

    let held = null, wasMoved = false;
    view.addEventListener("pointerdown", (event) => {
      wasMoved = false;
      if (event.pointerType === "touch" || event.button || "drawing" in picture.dataset || event.target.closest("a, button")) return;
      held = { x: event.clientX, y: event.clientY, left: view.scrollLeft, top: view.scrollTop };
    });
    addEventListener("pointermove", (event) => {
      if (!held) return;
      const x = event.clientX - held.x, y = event.clientY - held.y;
      if (!wasMoved && Math.hypot(x, y) < DRAG_PX) return;
      wasMoved = true;
      view.classList.add("is-held");
      view.scrollTo(held.left - x, held.top - y);
    });
    for (const end of ["pointerup", "pointercancel"]) {
      addEventListener(end, () => {
        held = null;
        view.classList.remove("is-held");
      });
    }
    view.addEventListener("click", (event) => {
      if (wasMoved) event.stopPropagation();
      wasMoved = false;
    }, true);
    view.addEventListener("dragstart", (event) => event.preventDefault());
    view.addEventListener("dblclick", (event) => {
      if (!("drawing" in picture.dataset)) zoomTo(zoom * 2, event.clientX, event.clientY);
    });

    let pinch = null;
    const apart = ([a, b]) => Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY);
    view.addEventListener("touchstart", (event) => {
      if (event.touches.length !== 2) return;
      if (event.cancelable) event.preventDefault();
      pinch = { apart: apart(event.touches), zoom };
    }, { passive: false });
    view.addEventListener("touchmove", (event) => {
      if (!pinch || event.touches.length !== 2) return;
      if (event.cancelable) event.preventDefault();
      const [a, b] = event.touches;
      wasMoved = true;
      zoomTo((pinch.zoom * apart(event.touches)) / pinch.apart, (a.clientX + b.clientX) / 2, (a.clientY + b.clientY) / 2);
    }, { passive: false });
    view.addEventListener("touchend", (event) => {
      if (event.touches.length < 2) pinch = null;
    });

    view.addEventListener("keydown", (event) => {
      const kind = { "+": "in", "=": "in", "-": "out", "−": "out", 0: "fit" }[event.key];
      if (!kind || event.ctrlKey || event.metaKey || event.altKey || event.target.matches("input, textarea")) return;
      event.preventDefault();
      kinds[kind]();
    });
    root.addEventListener("click", (event) => {
      const button = event.target.closest("[data-zoom]");
      if (button) kinds[button.dataset.zoom]();
      if (event.target.closest("[data-whole]")) {
        if (document.fullscreenElement) document.exitFullscreen();
        else root.requestFullscreen();
      }
    });
    root.querySelector(".zooms").hidden = false;
    root.querySelector("[data-whole]").hidden = !document.fullscreenEnabled;

    // squares

    const go = (zone) => {
      picture.dispatchEvent(new CustomEvent("muntin:go", { bubbles: true, detail: { zone } }));
      picture.dispatchEvent(new CustomEvent("muntin:zone", { bubbles: true, detail: { zone, sheet: picture.dataset.picture } }));
    };
    picture.addEventListener("muntin:go", (event) => {
      const { zone } = event.detail;
      const x = event.detail.x ?? ("123456".indexOf(zone[1]) + 0.5) / 6;
      const y = event.detail.y ?? ("ABCD".indexOf(zone[0]) + 0.5) / 4;
      const near = Math.min(view.clientWidth / (size.width / 4), (parseFloat(getComputedStyle(view).maxHeight) || 600) / (size.height / 2.6));
      zoomTo(Math.max(zoom, Math.min(near, most())));
      bring(x, y);
      if (!zone) return;
      for (const plate of form.querySelectorAll("input[type=radio]")) plate.checked = zone.includes(plate.value);
      form.elements.at.value = zone;
      history.replaceState(history.state, "", `#${zone}`);
    });
    const form = root.querySelector("[data-go]");
    form.addEventListener("submit", (event) => {
      const typed = form.elements.at.value.trim().toUpperCase();
      if (!/^[A-D][1-6]$/.test(typed)) return; // the site says what was read, and what is expected
      event.preventDefault();
      go(typed);
    });
    form.addEventListener("change", (event) => {
      const chosen = new FormData(form);
      if (event.target.type !== "radio" || !chosen.get("row") || !chosen.get("column")) return;
      go(chosen.get("row") + chosen.get("column"));
    });
    const asked = () => {
      const zone = location.hash.slice(1).toUpperCase();
      if (!/^[A-D][1-6]$/.test(zone)) return;
      go(zone);
      root.scrollIntoView({ block: "nearest" });
    };
    addEventListener("hashchange", asked);

    view.addEventListener("scroll", rest, { passive: true });
    const again = () => (isFit ? zoomTo(0) : lay());
    let across = 0;
    new ResizeObserver(() => {
      if (view.clientWidth !== across) again();
      across = view.clientWidth;
    }).observe(view.parentElement);
    addEventListener("fullscreenchange", () => zoomTo(0));
    zoomTo(0);
    asked();
  }

  for (const view of document.querySelectorAll("[data-close-view]")) open(view);
})();
