/* Proofs before a release are leafed through by the arrow keys, where nothing else takes them. */
(() => {
  "use strict";
  const ways = { ArrowLeft: 'a[rel="prev"]', ArrowRight: 'a[rel="next"]' };
  document.addEventListener("keydown", (event) => {
    const isPlain = !(event.altKey || event.ctrlKey || event.metaKey || event.shiftKey);
    const way = ways[event.key] && document.querySelector(ways[event.key]);
    if (isPlain && way && document.activeElement === document.body) {
      way.click();
    }
  });
})();
