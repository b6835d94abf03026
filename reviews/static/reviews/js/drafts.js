/* Holds what is typed into a form with data-draft on this device until the server has it: a lost
   network, a closed tab or a session that has ended take nothing. Nothing is sent by itself. */
(() => {
  "use strict";
  const keeper = document.getElementById("keeper");
  const forms = [...document.querySelectorAll("form[data-draft]")];
  if (!keeper || !forms.length) return;
  const nameOf = (form) => `muntin-draft-${keeper.dataset.person}-${form.dataset.draft}`;

  const fields = (form) => [...form.elements].filter((e) => e.name && e.name !== "csrfmiddlewaretoken" && e.type !== "submit");
  const valueOf = (field) => ["radio", "checkbox"].includes(field.type) ? String(field.checked) : field.value;
  const slot = (field) => ["radio", "checkbox"].includes(field.type) ? `${field.name}=${field.value}` : field.name;
  const values = (form) => Object.fromEntries(fields(form).map((e) => [slot(e), valueOf(e)]));
  const typed = (held) => JSON.stringify(Object.entries(held).filter(([name]) => !["key", "seen", "on"].includes(name)).sort());
  const first = new Map(forms.map((form) => [form, typed(values(form))]));

  function read(form) {
    try {
      return JSON.parse(localStorage.getItem(nameOf(form)) || "null");
    } catch {
      return null;
    }
  }

  function write(form, held) {
    try {
      if (held) localStorage.setItem(nameOf(form), JSON.stringify(held));
      else localStorage.removeItem(nameOf(form));
    } catch {
      // a browser that stores nothing: the page alone holds what is typed
    }
  }

  function say(form) {
    const note = document.createElement("p");
    note.className = "draft-note";
    note.setAttribute("role", "status");
    note.append("Typed on this device and not sent yet. ");
    const leave = document.createElement("button");
    leave.type = "button";
    leave.textContent = "Take it out";
    leave.addEventListener("click", () => { write(form, null); form.reset(); note.remove(); });
    note.append(leave);
    form.prepend(note);
    for (let box = form.closest("details"); box; box = box.parentElement.closest("details")) box.open = true;
  }

  for (const form of forms) {
    const held = read(form);
    if (!held) continue;
    const isKept = held.key && document.querySelector(`[data-kept-key="${CSS.escape(held.key)}"]`);
    if (isKept || typed(held) === first.get(form)) {
      write(form, null);
      continue;
    }
    if (form.querySelector(".field-error, [role=alert]")) continue; // the server sent it back as typed
    for (const field of fields(form)) {
      if (!(slot(field) in held) || field.name === "seen" || field.name === "on") continue;
      if (["radio", "checkbox"].includes(field.type)) field.checked = held[slot(field)] === "true";
      else field.value = held[slot(field)];
    }
    say(form);
  }

  document.addEventListener("input", (event) => {
    const form = event.target.form;
    if (!form?.dataset.draft) return;
    const held = values(form);
    write(form, typed(held) === first.get(form) ? null : held);
  });
})();
