/* A drawing's marks lead to their rows: one tab stop a drawing, arrows from mark to mark, Enter to
   the row, Escape from there back; the mark of the row in hand is ringed. */
(() => {
  "use strict";
  const touches = (drawing) => [...drawing.querySelectorAll("a.touch")];
  const rowOf = (mark) => document.querySelector(`tbody[data-row="${CSS.escape(mark.dataset.row)}"]`);
  const marksOf = (row) => [...document.querySelectorAll("a.touch")].filter((m) => m.dataset.row === row.dataset.row);
  const isSeen = (mark) => mark.getClientRects().length > 0;

  function gather(root) {
    for (const drawing of root.querySelectorAll("svg.drawn[role=group]")) {
      touches(drawing).forEach((mark, n) => mark.setAttribute("tabindex", n ? "-1" : "0"));
    }
  }

  function step(mark, to) {
    const all = touches(mark.closest("svg")), at = all.indexOf(mark);
    const next = { ArrowRight: at + 1, ArrowDown: at + 1, ArrowLeft: at - 1, ArrowUp: at - 1, Home: 0, End: all.length - 1 }[to];
    const found = all[next];
    if (!found) return;
    mark.setAttribute("tabindex", "-1");
    found.setAttribute("tabindex", "0");
    found.focus();
  }

  document.addEventListener("click", (event) => {
    const mark = event.target.closest?.("a.touch"), row = mark && rowOf(mark);
    const field = row?.querySelector("input:not([type=hidden]), select, textarea");
    if (!field || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    row.scrollIntoView({ block: "center" });
    field.focus({ preventScroll: true });
  });
  document.addEventListener("keydown", (event) => {
    const mark = event.target.closest?.("a.touch");
    if (mark && /^(Arrow|Home$|End$)/.test(event.key)) {
      event.preventDefault();
      step(mark, event.key);
    } else if (event.key === "Escape") {
      const row = event.target.closest?.("tbody[data-row]");
      (row ? marksOf(row).find(isSeen) : null)?.focus();
    }
  });
  document.addEventListener("focusin", (event) => {
    const row = event.target.closest?.("tbody[data-row]");
    if (!row && !event.target.closest?.("a.touch")) return;
    for (const mark of document.querySelectorAll("a.touch.in-hand")) mark.classList.remove("in-hand");
    if (row) for (const mark of marksOf(row)) mark.classList.add("in-hand");
  });
  new MutationObserver(() => gather(document)).observe(document.body, { childList: true, subtree: true });
  gather(document);
})();
