// Puts a juror's own phrase into the comment in hand, or begins one; jury.js keeps it as typed words.
(() => {
  "use strict";
  const own = document.getElementById("own-comments");
  const stub = document.querySelector("form[data-stub].hand-stub");
  if (!own) return;
  let waits = "";

  const open = (article) => article?.querySelector("form[data-keep] textarea");
  const inHand = () => open(own.querySelector(".own-comment[data-in-hand]")) || [...own.querySelectorAll(".own-comment")].map(open).filter(Boolean).at(-1);

  function put(area, words) {
    area.value = [area.value.trimEnd(), words].filter(Boolean).join(" ");
    area.dispatchEvent(new Event("input", { bubbles: true }));
  }

  document.addEventListener("click", (event) => {
    const words = event.target.closest?.("[data-phrase]")?.textContent;
    if (!words) return;
    const area = inHand();
    if (area) {
      put(area, words);
    } else if (stub) {
      waits = words;
      stub.requestSubmit();
    }
  });

  own.addEventListener("comment-begun", (event) => {
    const area = waits && open(event.target);
    if (area) setTimeout(put, 0, area, waits); // once jury.js has queued the stub
    waits = "";
  });
})();
