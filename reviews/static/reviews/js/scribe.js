/* Takes down line after line. A line is laid into the queue of queue.js under its own key, shown as
   waiting, and shown as it was read once it has arrived; the field is free again at once. Taps on
   initials, kinds and squares write their sign in front of the line. */
(() => {
  "use strict";
  const LONGEST = 500;
  const form = document.querySelector("form[data-line]");
  const queue = window.muntinQueue;
  const list = document.getElementById("lines");
  if (!form || !queue) return;
  const field = form.elements.line;
  const tapped = {}; // the sign that stands in the line for each part

  const { now } = window.muntinDay;
  const { newKey } = window.muntinShelves;

  /* a remark is said when its line is begun, not when it is done */
  let begun = 0;
  field.addEventListener("input", () => {
    if (!field.value) begun = 0;
    else begun ||= now();
  });

  function write(part, sign) {
    const words = field.value.split(/(?<=\s)/);
    const at = tapped[part] ? words.findIndex((word) => word.trim() === tapped[part]) : -1;
    if (at >= 0) words[at] = `${sign} `;
    else words.unshift(`${sign} `);
    tapped[part] = sign;
    field.value = words.join("");
    begun ||= now();
    field.focus({ preventScroll: true });
    field.setSelectionRange(field.value.length, field.value.length);
  }

  function lay(url, unit, body, what, adds) {
    const entries = queue.waiting().filter((entry) => adds || entry.url !== url || entry.tried);
    const key = body.get("key") || newKey();
    body.delete("csrfmiddlewaretoken");
    queue.lay([...entries, {
      unit, key, adds, what, page: location.pathname, place: "", url,
      body: body.toString(), tried: false, met: false,
    }]);
    queue.pump();
  }

  function keep(isGap) {
    const typed = field.value.trim();
    if (!typed && !isGap) return field.focus();
    const body = new URLSearchParams({
      key: form.elements.key.value, of: form.elements.of.value, line: typed, said_at: begun || now(),
    });
    if (isGap) body.set("gap", "1");
    wait(body.get("key"), typed || "Missed something here");
    lay(form.action, `line-${body.get("key")}`, body, `Line: ${typed || "missed something"}`, true);
    form.elements.key.value = newKey();
    field.value = "";
    begun = 0;
    for (const part of Object.keys(tapped)) delete tapped[part];
    form.querySelector("#line-error")?.remove();
    field.removeAttribute("aria-invalid");
    field.focus({ preventScroll: true });
  }

  function wait(key, words) {
    if (document.getElementById(`line-${key}`)) return;
    list.querySelector("[data-none]")?.remove();
    const line = document.createElement("article");
    line.className = "line-kept";
    line.id = `line-${key}`;
    const said = document.createElement("p");
    said.className = "line-words";
    said.textContent = words;
    const state = document.createElement("p");
    state.className = "kept waiting";
    state.textContent = "Waiting to be sent";
    line.append(said, state);
    list.prepend(line);
  }

  form.addEventListener("submit", (event) => {
    const by = event.submitter;
    if (by && ["who", "kind", "place"].includes(by.name)) {
      event.preventDefault();
      write(by.name, by.value);
      return;
    }
    if (field.value.length > LONGEST) return; // its page says what is too long, and keeps it
    event.preventDefault();
    keep(by?.name === "gap");
  });

  document.addEventListener("submit", (event) => {
    const own = event.target;
    if (!own.matches?.("[data-line-form]")) return;
    event.preventDefault();
    const by = event.submitter;
    const unit = own.closest("[id]").id;
    lay(by?.getAttribute("formaction") || own.action, unit, new URLSearchParams(new FormData(own)), "A line put right", false);
  });

  /* what was refused stands in its line, with all that was sent */
  queue.taken = (doc, entry, isKept) => {
    const fresh = doc.getElementById(entry.unit);
    if (!fresh) return;
    if (!isKept) queue.lay(queue.waiting().filter((other) => other.key !== entry.key));
    const old = document.getElementById(entry.unit);
    const held = old?.contains(document.activeElement);
    if (old) old.replaceWith(fresh);
    else if (location.pathname === entry.page) list.prepend(fresh);
    if (held) fresh.querySelector("summary, button")?.focus({ preventScroll: true });
  };

  for (const entry of queue.waiting().filter((e) => e.adds && e.page === location.pathname)) {
    wait(entry.key, new URLSearchParams(entry.body).get("line") || "Missed something here");
  }
  field.focus({ preventScroll: true });
})();
