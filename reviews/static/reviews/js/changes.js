/* The edge between two revisions that lie over each other: a slider moves it, by hand or by keys. */
(() => {
  "use strict";
  function move(edge) {
    const from = Number(edge.dataset.from), wide = Number(edge.dataset.over) * edge.value / 100;
    const svg = edge.closest("figure").querySelector("svg");
    svg.querySelector("clipPath rect").setAttribute("width", wide);
    const line = svg.querySelector(".edge");
    line.setAttribute("x1", from + wide);
    line.setAttribute("x2", from + wide);
    edge.setAttribute("aria-valuetext", `${edge.value} % former, ${100 - edge.value} % present`);
  }
  document.addEventListener("input", (event) => event.target.id === "edge" && move(event.target));
  for (const edge of document.querySelectorAll("#edge")) {
    edge.disabled = false;
    move(edge);
  }
})();
