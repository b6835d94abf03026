/* What stands fixed on each sheet of a print slides off it by as much as the page is scrolled: a
   print begins at the top, and the page goes back afterwards. */
(() => {
  "use strict";
  let stood = 0;
  const stand = (top) => window.scrollTo({top, behavior: "instant"});
  window.addEventListener("beforeprint", () => { stood = window.scrollY; stand(0); });
  window.addEventListener("afterprint", () => stand(stood));
})();
