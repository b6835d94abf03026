/* An order drawn appears scheme by scheme, in the order of its lot; without this it stands whole. */
(() => {
  "use strict";
  const EACH_MS = 1100;
  const drawn = document.querySelector("[data-drawn]");
  if (!drawn) return;
  const now = document.querySelector("[data-drawn-now]");
  const slowly = document.querySelector("[data-one-by-one]");
  const whole = document.querySelector("[data-all-at-once]");
  const turns = [...drawn.querySelectorAll("[data-place]")];
  turns.sort((one, other) => Number(one.dataset.place) - Number(other.dataset.place));
  let timer = 0;

  const stop = () => {
    clearInterval(timer);
    timer = 0;
    for (const turn of turns) turn.classList.remove("just-drawn", "to-come");
    now.textContent = "";
    slowly.hidden = false;
    whole.hidden = true;
  };
  const next = () => {
    const turn = turns.find((each) => each.classList.contains("to-come"));
    for (const each of turns) each.classList.remove("just-drawn");
    if (!turn) {
      stop();
      return;
    }
    turn.classList.remove("to-come");
    turn.classList.add("just-drawn");
    const hour = turn.closest("tr").querySelector("th").textContent.trim();
    now.textContent = `${turn.dataset.place}. ${turn.firstChild.textContent} ${turn.childNodes[1].textContent.trim()}, ${hour}`;
    turn.scrollIntoView({block: "nearest"});
  };
  slowly.addEventListener("click", () => {
    for (const turn of turns) turn.classList.add("to-come");
    slowly.hidden = true;
    whole.hidden = false;
    next();
    timer = setInterval(next, EACH_MS);
  });
  whole.addEventListener("click", stop);
  slowly.hidden = false;
})();
