/* The column in hand says at the foot of the screen what it takes; a mark that was filled in for
   whoever types is typed over. */
(() => {
  "use strict";
  const field = (target) => target.closest?.(".entry [name^='cell-']");

  document.addEventListener("focusin", (event) => {
    const strip = document.getElementById("column-in-hand"), at = field(event.target);
    if (!strip) return;
    const help = at && document.getElementById(at.getAttribute("aria-describedby").split(" ")[0]);
    strip.classList.toggle("is-empty", !help);
    if (!help) return;
    const head = document.createElement("strong");
    head.textContent = help.querySelector("dt").textContent;
    strip.replaceChildren(head, ` ${help.querySelector("dd").textContent}`);
    if (at.closest(".ghost-line") && at.matches("input") && at.value && at.value === at.defaultValue) at.select();
  });
})();
