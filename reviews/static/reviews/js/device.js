/* Lists what waits on this device, so that nothing set is lost unseen. */
(() => {
  "use strict";
  const { all, senders } = window.muntinShelves;
  const { own, lastMet, inWords, sendAll } = window.muntinDay;
  const at = (selector) => document.querySelector(selector);
  function show() {
    const shelves = all();
    const waits = shelves.filter(({ name }) => own(name)).flatMap(({ entries }) => entries);
    const others = shelves.filter(({ name }) => !own(name)).reduce((sum, { entries }) => sum + entries.length, 0);
    at("[data-none]").hidden = waits.length > 0;
    at("[data-waits]").hidden = waits.length === 0;
    at("[data-entries]").replaceChildren(...waits.map((entry) => {
      const item = document.createElement("li"), link = document.createElement("a");
      link.href = entry.page;
      link.textContent = inWords(entry);
      item.append(link);
      return item;
    }));
    at("#as-text").value = waits.map(inWords).join("\n");
    at("[data-met]").textContent = lastMet() ? `This device last met the server at ${lastMet()}.` : "";
    at("[data-others]").hidden = others === 0;
    at("[data-others]").textContent = `${others} unsent of somebody else: they are sent once that link is opened, or that account signed in, here again.`;
    if (at("[data-let-go]")) at("[data-let-go]").hidden = waits.length === 0;
  }

  const then = new URLSearchParams(location.search).get("then");
  if (then?.startsWith("/j/")) {
    at("[data-then]").hidden = false;
    at("[data-over]").href = `${then}?over=1`;
  }
  at("[data-send]").addEventListener("click", async () => { await sendAll(); show(); });
  document.addEventListener("waits-still", show);
  document.addEventListener("entry-kept", show);
  window.addEventListener("storage", show);
  show();
  senders.forEach((send) => send().then(show));
})();
