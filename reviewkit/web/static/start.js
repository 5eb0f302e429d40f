"use strict";
// Files dropped on their field, and a plan checked while it is typed.

document.documentElement.classList.add("has-script");

const megabytes = (bytes) => `${(bytes / 1000000).toFixed(bytes < 100000 ? 2 : 1)} MB`;

// A file dropped beside a field would make the browser leave the page.
for (const kind of ["dragover", "drop"]) {
  document.addEventListener(kind, (event) => event.preventDefault());
}

function choosePlan(way) {
  const choice = document.querySelector(`input[name="plan_from"][value="${way}"]`);
  if (choice) choice.checked = true;
}

function watchDrop(field) {
  const input = field.querySelector('input[type="file"]');
  const note = field.querySelector("[data-too-large]");
  const chosen = field.querySelector("[data-chosen]");
  const limit = Number(field.dataset.limit);
  let depth = 0;

  // Of many files each is judged when it is read: one of them stops no other.
  function list() {
    const names = [...input.files].map((file) => file.name);
    chosen.textContent = names.length > 1 ? `${names.length} files: ${names.join(", ")}` : "";
    chosen.hidden = names.length < 2;
  }

  function judge() {
    if (input.multiple) {
      list();
      return;
    }
    const file = input.files[0];
    const isTooLarge = Boolean(file) && file.size > limit;
    note.textContent = isTooLarge
      ? `${file.name}: is larger than ${limit / 1000000} MB (${megabytes(file.size)})`
      : "";
    note.hidden = !isTooLarge;
    input.setCustomValidity(isTooLarge ? note.textContent : "");
    if (file && field.dataset.way) choosePlan(field.dataset.way);
  }

  field.addEventListener("dragenter", () => {
    depth += 1;
    field.classList.add("over");
  });
  field.addEventListener("dragleave", () => {
    depth -= 1;
    if (depth === 0) field.classList.remove("over");
  });
  field.addEventListener("drop", (event) => {
    depth = 0;
    field.classList.remove("over");
    if (event.dataTransfer.files.length === 0) return;
    const dropped = [...event.dataTransfer.files];
    const taken = new DataTransfer();
    for (const file of input.multiple ? [...input.files, ...dropped] : dropped.slice(0, 1)) {
      taken.items.add(file);
    }
    input.files = taken.files;
    judge();
  });
  input.addEventListener("change", judge);
  judge();
}

// A field that is not shown must not keep the form from being sent.
function watchSending(form) {
  form.addEventListener("change", () => {
    for (const input of form.querySelectorAll('.panel input[type="file"]')) {
      input.disabled = getComputedStyle(input.closest(".panel")).display === "none";
    }
  });
  form.addEventListener("submit", () => {
    const button = form.querySelector("button.main");
    setTimeout(() => { button.disabled = true; }, 0);
    window.addEventListener("pageshow", () => { button.disabled = false; });
  });
}

function cell(text, isFigure) {
  const made = document.createElement("td");
  made.textContent = text;
  if (isFigure) made.className = "num";
  return made;
}

function intervalRows(rows) {
  const made = [];
  let part = null;
  for (const row of rows) {
    if (row.part !== part) {
      part = row.part;
      const heading = document.createElement("th");
      heading.scope = "colgroup";
      heading.colSpan = 4;
      heading.textContent = part;
      const group = document.createElement("tr");
      group.className = "group";
      group.append(heading);
      made.push(group);
    }
    const line = document.createElement("tr");
    line.append(cell(row.at, true), cell(row.move), cell(row.work, true), cell(row.rest, true));
    made.push(line);
  }
  return made;
}

function showLine(text, number) {
  const lines = text.value.split("\n");
  const start = lines.slice(0, number - 1).reduce((sum, line) => sum + line.length + 1, 0);
  text.focus();
  text.setSelectionRange(start, start + (lines[number - 1] || "").length);
  const height = parseFloat(getComputedStyle(text).lineHeight);
  text.scrollTop = Math.max(0, (number - 4) * height);
}

function problemItem(problem, text) {
  const item = document.createElement("li");
  if (problem.line !== null) {
    const where = document.createElement("button");
    where.type = "button";
    where.className = "where";
    where.textContent = `Line ${problem.line}`;
    where.addEventListener("click", () => showLine(text, problem.line));
    item.append(where, " ");
  }
  item.append(problem.text);
  return item;
}

function watchPlan(field) {
  const text = field.querySelector("textarea");
  const shown = field.querySelector("[data-planned]");
  const total = shown.querySelector("[data-total]");
  const wrong = shown.querySelector("[data-wrong]");
  const rows = shown.querySelector("[data-rows]");
  const token = text.form.elements.form_token.value;
  let timer = 0;
  let asked = 0;

  function show(check) {
    total.textContent = check.total || (check.problems.length ? "Not a plan yet" : "Nothing typed yet");
    wrong.replaceChildren(...check.problems.map((one) => problemItem(one, text)));
    rows.querySelector("tbody").replaceChildren(...intervalRows(check.rows));
    rows.hidden = check.rows.length === 0;
  }

  async function check() {
    asked += 1;
    const mine = asked;
    shown.classList.add("waiting");
    try {
      const answer = await fetch("/plans/check", {
        method: "POST",
        headers: { "X-Form-Token": token },
        body: new URLSearchParams({ plan_text: text.value }),
      });
      if (!answer.ok) throw new Error(String(answer.status));
      const said = await answer.json();
      if (mine === asked) show(said);
    } catch {
      if (mine === asked) total.textContent = "The program does not answer. Is it still running?";
    } finally {
      if (mine === asked) shown.classList.remove("waiting");
    }
  }

  text.addEventListener("input", () => {
    clearTimeout(timer);
    timer = setTimeout(check, 250);
  });
  if (text.value.trim()) check();
}

// What is in the making is told of until it is over; the form above is left as it is.
function watchMaking(link) {
  const told = link.closest("li").querySelector("[data-told]");
  const stop = link.closest("li").querySelector("form");
  const first = link.getAttribute("href");

  async function look() {
    let wait = 1000;
    try {
      const answer = await fetch(link.dataset.making);
      if (!answer.ok) throw new Error(String(answer.status));
      const state = await answer.json();
      told.textContent = state.told;
      if (state.next) {
        link.href = state.next;
        stop.hidden = state.next !== first;
        return;
      }
    } catch {
      told.textContent = "The program does not answer. Is it still running?";
      wait = 3000;
    }
    setTimeout(look, wait);
  }

  look();
}

document.querySelectorAll("[data-making]").forEach(watchMaking);
document.querySelectorAll("[data-drop]").forEach(watchDrop);
document.querySelectorAll("[data-send]").forEach(watchSending);
document.querySelectorAll("[data-check]").forEach(watchPlan);
