// Keeps what is ticked and typed on the page, says where a value read back is not the one on the card, and
// shows the lines that record it. Without it the page shows everything and keeps nothing.
(() => {
  const key = document.querySelector("main").dataset.key;
  const all = (selector, within = document) => [...within.querySelectorAll(selector)];
  const byId = (id) => document.getElementById(id);
  let memory = {};
  let isKept = true;

  // What is kept: by the id of a field its state, by the id of a card the day on which it was last changed.
  function kept() {
    if (!isKept) return memory;
    try {
      const found = JSON.parse(window.localStorage.getItem(key) || "{}");
      return found && typeof found === "object" ? found : {};
    } catch (error) {
      if (error instanceof SyntaxError) return {};
      isKept = false;
      return memory;
    }
  }

  function keep(changes) {
    // Read anew, as the page may be open twice.
    memory = { ...kept(), ...changes, changed: `${day()} ${time()}` };
    try {
      window.localStorage.setItem(key, JSON.stringify(memory));
    } catch {
      isKept = false;
    }
    sayKept();
  }

  function sayKept() {
    const { changed } = kept();
    const since = changed ? ` Last changed ${changed}.` : "";
    byId("kept").textContent = isKept
      ? `Ticks and values stay in this browser, for just these cards.${since}`
      : "This browser keeps nothing for this page: ticks and values are lost when it is closed or loaded again.";
  }

  const two = (number) => String(number).padStart(2, "0");

  function day() {
    const now = new Date();
    return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  }

  function time() {
    const now = new Date();
    return `${two(now.getHours())}:${two(now.getMinutes())}`;
  }

  function judge(step) {
    const line = lineOf(step);
    const said = step.querySelector("output");
    const { value, agrees } = step.dataset;
    step.querySelector(".number").setAttribute("aria-invalid", String(line.unusable));
    let words = "";
    if (line.unusable) words = "not taken: only 0 to 255";
    else if (line.read === "-") words = "no acknowledgment";
    else if (line.read !== null && value !== undefined)
      words = agrees.split(" ").includes(String(line.read))
        ? "agrees"
        : `differs: ${value} on the card, ${line.read} read back`;
    said.textContent = words;
    said.className = words.split(":")[0].replace(/ .*/, "");
  }

  // Shows the lines of a card, and all of them at the end.
  function record(card) {
    const pairs = pairsOf(card);
    const on = kept()[card.id];
    for (const field of all("[data-start]", card))
      field.value = pairs.length ? `${field.dataset.start} --record "${pairs.join(" ")}"${on ? ` --on ${on}` : ""}` : "";
    for (const section of all(".record", card)) section.hidden = !pairs.length;
  }

  function recordAll() {
    const seen = new Set();
    for (const field of all("[data-all]")) {
      const lines = all(`.card [data-shells~="${field.dataset.all}"]`).map((one) => one.value).filter(Boolean);
      field.value = lines.join("\n");
      field.parentElement.hidden = !lines.length || seen.has(field.value);
      seen.add(field.value);
    }
    const shown = all("[data-all]").filter((field) => field.value);
    const isOne = new Set(shown.map((field) => field.value)).size === 1 && shown.length === all("[data-all]").length;
    for (const label of all(".all label")) {
      label.dataset.one ??= label.textContent;
      label.textContent = isOne ? "In any shell" : label.dataset.one;
    }
    byId("none").hidden = shown.length > 0;
    byId("how").hidden = shown.length === 0;
  }

  function count(card) {
    const boxes = all(".tick input", card);
    const done = boxes.filter((box) => box.checked).length;
    for (const text of all(".count", card)) text.textContent = boxes.length ? `${done} of ${boxes.length} ticked` : "";
  }

  function changed(field) {
    const card = field.closest(".card");
    const step = field.closest(".step");
    const changes = { [field.id]: field.type === "checkbox" ? field.checked : field.value };
    if (!field.closest(".tick")) changes[card.id] = day();
    if (step) {
      const number = step.querySelector(".number");
      const silent = step.querySelector(".noack input");
      // A value and no acknowledgment exclude each other: what came last holds.
      if (field === silent && silent.checked) changes[number.id] = number.value = "";
      if (field === number && number.value.trim()) changes[silent.id] = silent.checked = false;
      judge(step);
    }
    keep(changes);
    show(card);
    recordAll();
  }

  function show(card) {
    record(card);
    count(card);
  }

  async function copy(button) {
    const field = byId(button.dataset.copy);
    const said = button.parentElement.querySelector("output");
    field.select();
    try {
      await navigator.clipboard.writeText(field.value);
      said.textContent = "copied";
    } catch {
      const done = document.execCommand("copy");
      said.textContent = done ? "copied" : "not copied: the line is selected, copy it by hand";
    }
  }

  function fillIn(state) {
    for (const field of all(".card input")) {
      if (field.type === "checkbox") field.checked = state[field.id] === true;
      else field.value = typeof state[field.id] === "string" ? state[field.id] : "";
    }
    all(".step").forEach(judge);
    all(".card").forEach(show);
    if (byId("none")) recordAll();
  }

  function clear() {
    if (!window.confirm("Clear all ticks and values on this page?")) return;
    memory = {};
    try {
      window.localStorage.removeItem(key);
    } catch {
      isKept = false;
    }
    fillIn({});
    sayKept();
  }

  for (const card of all(".card")) card.addEventListener("input", (event) => changed(event.target));
  for (const button of all("[data-copy]")) button.addEventListener("click", () => copy(button));
  byId("clear").addEventListener("click", clear);
  for (const part of all(".keeping, .all")) part.hidden = false;
  fillIn(kept());
  sayKept();
})();
