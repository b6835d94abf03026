/* Asks a device for a passkey. Each form asks its own address first: what answers in JSON is what the
   device is asked; anything else is a page with words, which the browser is then sent to. */
(() => {
  "use strict";
  const kinds = window.PublicKeyCredential;
  if (!kinds || !kinds.parseCreationOptionsFromJSON || !kinds.parseRequestOptionsFromJSON) return;
  const WORDS = {
    NotAllowedError: "Nothing came of it: it was stopped, took too long, or this device has no passkey for this site.",
    InvalidStateError: "This device holds a passkey of yours already.",
    SecurityError: "No passkey works at this address: it takes a name, and https.",
    TypeError: "No answer from the server. Try again.",
  };

  const ask = async (form) => {
    const answer = await fetch(form.action, { method: "POST", body: new FormData(form) });
    if (!(answer.headers.get("Content-Type") || "").startsWith("application/json")) return;
    const { publicKey } = await answer.json();
    const held = form.dataset.passkey === "new"
      ? await navigator.credentials.create({ publicKey: kinds.parseCreationOptionsFromJSON(publicKey) })
      : await navigator.credentials.get({ publicKey: kinds.parseRequestOptionsFromJSON(publicKey) });
    form.elements.answer.value = JSON.stringify(held.toJSON());
  };

  for (const form of document.querySelectorAll("form[data-passkey]")) {
    const said = form.querySelector("[role=status]");
    const button = form.querySelector("button");
    form.closest("[data-passkeys]").hidden = false;
    form.addEventListener("submit", async (event) => {
      event.preventDefault();
      form.elements.answer.value = said.textContent = "";
      button.disabled = true;
      try {
        await ask(form);
        form.submit();
      } catch (fault) {
        said.textContent = WORDS[fault.name] || WORDS.NotAllowedError;
      } finally {
        button.disabled = false;
      }
    });
  }
  for (const word of document.querySelectorAll("[data-without-passkeys]")) word.hidden = true;
})();
