// Takes tracing paper off a sheet and lays it on again: flags, and each juror's strokes.
(() => {
  "use strict";
  const wake = () => document.querySelectorAll("fieldset.layers[hidden]").forEach((each) => (each.hidden = false));

  document.addEventListener("change", (event) => {
    const box = event.target.closest(".layers input");
    const over = box?.closest(".sheet-traced");
    for (const layer of over?.querySelectorAll("[data-layer]") || []) {
      if (layer.dataset.layer === box.value) layer.toggleAttribute("data-off", !box.checked);
    }
  });

  // from its words a flag is led to, whatever was folded or taken off meanwhile
  document.addEventListener("click", (event) => {
    const flag = document.getElementById(event.target.closest("a[href^='#flag-']")?.hash.slice(1) || "");
    flag?.closest("details")?.setAttribute("open", "");
    const box = flag?.closest("[data-off]") && flag.closest(".sheet-traced").querySelector(".layers input[value=flags]");
    if (box) box.click();
  });

  wake();
})();
