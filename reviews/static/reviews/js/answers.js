/* Says so in words when no answer comes, to a plain form or to what htmx sends. What was typed
   stays on the page. What queue.js and jury.js send they see to themselves. */
(() => {
  "use strict";
  const LONGEST_WAIT_MS = 12000;
  const OUT = {503: "The server's database or store does not answer.", 507: "The server has no room left: nothing was kept."};
  const line = document.getElementById("unanswered");
  if (!line) return;
  const say = (words) => { line.textContent = words; };
  let waits = 0;

  /* the pictures of a sheet may well take longer to send */
  document.addEventListener("submit", (event) => {
    if (event.target.enctype === "multipart/form-data") return;
    clearTimeout(waits);
    waits = setTimeout(() => {
      if (!event.defaultPrevented) say("No answer from the server yet. Stay on this page: what you typed is still here. If nothing comes, send it again.");
    }, LONGEST_WAIT_MS);
  });
  window.addEventListener("pagehide", () => clearTimeout(waits));

  document.addEventListener("htmx:beforeRequest", () => say(""));
  document.addEventListener("htmx:timeout", () => say("No answer from the server. It may have arrived all the same: load this page to see. What you typed stays on it until then."));
  document.addEventListener("htmx:responseError", (event) => {
    const { status } = event.detail.xhr;
    if (status >= 500) say(`${OUT[status] || `The server answered ${status}.`} Try it again; what you typed stays on this page.`);
  });
  document.addEventListener("htmx:sendError", () => say("No network. Nothing was sent; try it again."));
})();
