// Says softly, to whoever types, that words may be about the person; the rules are criteria/tone.py's.
(() => {
  "use strict";
  const section = document.querySelector("[data-tone]");
  if (!section) return;
  let rules = [];
  try {
    rules = JSON.parse(section.dataset.tone).map(([pattern, why]) => [new RegExp(pattern, "gi"), why]);
  } catch {
    return; // a browser that can't read them: the note comes with what is saved
  }

  const plain = (words) => words
    .replace(/[\u2019\u2018\u02bc\u00b4`]/g, "'").replace(/[\u201c\u201d]/g, '"')
    .replace(/[\u2010\u2011\u2013]/g, "-").split(/\s+/).filter(Boolean).join(" ");

  function found(words) {
    const typed = plain(words);
    const all = rules.flatMap(([rule, why]) => [...typed.matchAll(rule)].map((match) => ({
      from: match.index, to: match.index + match[0].length, words: match[0], why,
    })));
    all.sort((one, other) => one.from - other.from || other.to - one.to);
    let end = 0;
    return all.filter((each) => each.from >= end && (end = each.to));
  }

  function note(area) {
    const notes = area.form?.querySelector("[data-soft-notes]");
    if (!notes) return;
    const said = found(area.value).map((each) => `About the person, perhaps: \u201c${each.words}\u201d. ${each.why} Only you read this note; nothing is stopped by it.`);
    if (said.join() === [...notes.children].map((each) => each.textContent).join()) return;
    notes.replaceChildren(...said.map((words) => {
      const line = document.createElement("p");
      line.className = "soft-note";
      line.textContent = words;
      return line;
    }));
  }

  section.addEventListener("input", (event) => {
    if (event.target.matches('textarea[name="words"]')) note(event.target);
  });
})();
