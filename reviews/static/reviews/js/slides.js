/* Slides by key: arrows and space lead on, a number and Enter to that sheet of the scheme. Only the
   slide is exchanged, so that the whole screen stays whole. */
(() => {
  "use strict";
  const PATIENCE_MS = 4000;
  let typed = "", until = 0;
  const plain = (number) => number.replace(/^0+(?=.)/, "") || "0";

  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.target.matches("input, textarea, select")) return;
    if (event.timeStamp > until) typed = "";
    const slide = document.querySelector("#slide"), onControl = event.target.closest("a, button, summary");
    if (/^[0-9]$/.test(event.key)) {
      typed += event.key;
      until = event.timeStamp + PATIENCE_MS;
      slide.querySelector("[data-typed]").textContent = `Sheet ${typed}, then Enter`;
      return;
    }
    let link = null;
    if (event.key === "Enter" && typed) {
      link = slide.querySelector(`[data-number="${CSS.escape(plain(typed))}"]`);
      typed = "";
      if (!link) slide.querySelector("[data-typed]").textContent = "No such sheet";
      event.preventDefault();
    } else if (event.key === " " && !onControl) {
      link = slide.querySelector(`[rel=${event.shiftKey ? "prev" : "next"}]`);
    } else if (event.key === "Escape" && document.fullscreenElement) {
      return;
    } else {
      link = slide.querySelector(`[data-key="${CSS.escape(event.key)}"]`);
    }
    if (!link) return;
    event.preventDefault();
    link.click();
  });

  const offer = () => {
    const button = document.querySelector("[data-whole-screen]");
    if (button) button.hidden = !document.fullscreenEnabled;
  };
  document.addEventListener("click", (event) => {
    if (!event.target.closest("[data-whole-screen]")) return;
    if (document.fullscreenElement) document.exitFullscreen();
    else document.documentElement.requestFullscreen();
  });
  document.addEventListener("htmx:afterSettle", offer);
  offer();
})();
