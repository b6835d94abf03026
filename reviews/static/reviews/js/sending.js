/* Sends files in small pieces by the open tus protocol 1.0.0. What is lost on the way costs one
   piece: the server says where to go on, and the same file chosen again after a reload goes on
   there too, because its key is made of what it is. Without this script the form sends at once. */
(() => {
  "use strict";
  const PIECE = 2 ** 20, AGAIN_MS = 3000, VERSION = "1.0.0";
  const form = document.querySelector("form[data-sending]");
  if (!form) return;
  const list = form.querySelector("[data-files]"), drop = form.querySelector("[data-drop]");
  const button = form.querySelector("button.main");
  const token = form.querySelector("input[name=csrfmiddlewaretoken]").value;
  const person = document.getElementById("keeper")?.dataset.person || "";
  let chosen = [], isSending = false;

  const megabytes = (bytes) => (bytes < 1e5 ? `${Math.ceil(bytes / 1024)} KB` : `${(bytes / 2 ** 20).toFixed(1)} MB`);
  const pause = (ms) => new Promise((go) => setTimeout(go, ms));

  /* 128 bits of what the file is, as a key: the same file has the same key after a reload */
  function keyOf(file) {
    const text = `${form.dataset.sending} ${person} ${file.name} ${file.size} ${file.lastModified}`;
    const words = [1, 2, 3, 4].map((seed) => {
      let hash = 0x811c9dc5 ^ seed;
      for (const letter of text) hash = Math.imul(hash ^ letter.codePointAt(0), 0x01000193 + seed * 2);
      return (hash >>> 0).toString(16).padStart(8, "0");
    });
    return words.join("");
  }

  function add(file) {
    const key = keyOf(file);
    if (chosen.some((each) => each.key === key)) return;
    const row = list.appendChild(document.createElement("li"));
    const name = row.appendChild(document.createElement("strong"));
    const bar = row.appendChild(document.createElement("progress"));
    const words = row.appendChild(document.createElement("span"));
    const stop = row.appendChild(document.createElement("button"));
    name.textContent = file.name;
    bar.max = file.size || 1;
    bar.value = 0;
    bar.setAttribute("aria-label", `${file.name}, how much has arrived`);
    words.textContent = `${megabytes(file.size)}, not sent yet`;
    words.setAttribute("role", "status");
    stop.type = "button";
    stop.textContent = "Leave out";
    stop.setAttribute("aria-label", `Leave out ${file.name}`);
    const each = {file, key, row, bar, words, stop, address: "", isOver: false};
    stop.addEventListener("click", () => leaveOut(each));
    chosen.push(each);
    list.hidden = false;
  }

  function leaveOut(each) {
    each.isOver = true;
    chosen = chosen.filter((other) => other !== each);
    each.row.remove();
    list.hidden = !chosen.length;
    if (each.address) ask("DELETE", each.address).catch(() => {}); // it is let go in a day else
  }

  const ask = (method, address, headers = {}, body = undefined) =>
    fetch(address, {method, body, headers: {"Tus-Resumable": VERSION, "X-CSRFToken": token, ...headers}});

  /* says where to go on, or null where the file is refused */
  async function asked(each, answer) {
    if (answer.status >= 500) throw new Error("The server takes nothing just now");
    if (answer.ok || answer.status === 409) return Number(answer.headers.get("Upload-Offset"));
    const said = answer.headers.get("Content-Type")?.startsWith("text/plain") ? await answer.text() : "";
    each.words.textContent = said || "The server doesn’t take it. Sign in once more, and choose it again.";
    each.words.className = "refusal";
    each.isOver = true;
    return null;
  }

  async function begin(each) {
    const about = {
      key: each.key, filename: each.file.name,
      drawn_by: form.elements.drawn_by.value, is_replacing: form.elements.is_replacing.checked ? "on" : "",
    };
    const coded = ([name, text]) => `${name} ${btoa(String.fromCharCode(...new TextEncoder().encode(text)))}`;
    const answer = await ask("POST", form.dataset.sending, {
      "Upload-Length": each.file.size, "Upload-Metadata": Object.entries(about).map(coded).join(","),
    });
    const at = await asked(each, answer);
    if (at !== null) each.address = answer.headers.get("Location");
    return at;
  }

  async function send(each) {
    let at = null;
    while (!each.isOver) {
      try {
        at ??= await (each.address ? ask("HEAD", each.address).then((answer) => asked(each, answer)) : begin(each));
        if (at === null) return;
        each.bar.value = at;
        if (at >= each.file.size) break;
        each.words.textContent = `${megabytes(at)} of ${megabytes(each.file.size)} have arrived`;
        const piece = each.file.slice(at, at + PIECE);
        const headers = {"Upload-Offset": at, "Content-Type": "application/offset+octet-stream"};
        at = await asked(each, await ask("PATCH", each.address, headers, piece));
      } catch (error) {
        if (each.isOver) return;
        const why = error instanceof TypeError ? "No connection" : error.message; // fetch raises that alone
        each.words.textContent = `${why}. ${megabytes(each.bar.value)} of ${megabytes(each.file.size)} have arrived; it goes on by itself`;
        at = null;
        await pause(AGAIN_MS);
      }
    }
    if (each.isOver) return;
    each.isOver = true;
    each.words.textContent = `All ${megabytes(each.file.size)} have arrived`;
    each.stop.remove();
  }

  async function sendAll() {
    if (isSending) return;
    isSending = true;
    button.disabled = true;
    for (let each; (each = chosen.find((other) => !other.isOver)); ) await send(each);
    isSending = false;
    button.disabled = false;
    chosen = chosen.filter((each) => each.words.className === "refusal");
    for (const input of form.querySelectorAll("input[type=file]")) input.value = "";
    await window.htmx?.ajax("GET", location.pathname, {target: "#sheets-now", swap: "outerHTML"});
    list.replaceChildren(...chosen.map((each) => each.row)); // what arrived is told above
    list.hidden = !chosen.length;
  }

  form.addEventListener("change", (event) => {
    for (const file of event.target.files || []) add(file);
    if (event.target.type === "file") event.target.value = "";
  });
  form.addEventListener("submit", (event) => {
    if (!chosen.length) return; // the server says that nothing was chosen
    event.preventDefault();
    sendAll();
  });
  for (const name of ["dragenter", "dragover"]) {
    drop.addEventListener(name, (event) => {
      event.preventDefault();
      drop.classList.add("is-over");
    });
  }
  for (const name of ["dragleave", "drop"]) drop.addEventListener(name, () => drop.classList.remove("is-over"));
  drop.addEventListener("drop", (event) => {
    event.preventDefault();
    for (const file of event.dataTransfer.files) add(file);
  });
  form.classList.add("sends");
})();
