// The form of a plan. It holds the plan as a small document, changes it where a field is changed, and
// sends all of it; what comes back is shown as it is. No verdict, number or reason is made here.
"use strict";

const main = document.getElementById("plan");
const at = (id) => document.getElementById(id);
let plan = JSON.parse(main.dataset.plan);
let digest = main.dataset.digest;
let unsaved = main.dataset.unsaved === "yes";
const notKnown = new Set();

// ---- The document: paths as reports name them, `cells[K4].rest.voltage`.

// What a section of a bench takes by name: its key once other fields stand beside it.
const TAKEN = { light: "of", charging: "of", conditions: "at" };

function steps(path) {
  const found = /^([^.[]+)(?:\[(.+)\])?(?:\.(.+))?$/.exec(path);
  const [, top, entry, keys] = found;
  return { top, entry, keys: keys ? keys.split(".") : [] };
}

const idOf = (entry) => (typeof entry === "string" ? entry : entry.id || entry.of);

// The map that holds the last key of a path, made on the way where it is wanted.
function holder(path, make) {
  const { top, entry, keys } = steps(path);
  if (entry === undefined && keys.length === 0) return [plan, top];
  let map = plan[top];
  if (entry !== undefined) {
    if (!Array.isArray(map)) map = make ? (plan[top] = []) : [];
    const place = map.findIndex((one) => idOf(one) === entry);
    if (place < 0 && !make) return [undefined, ""];
    if (place < 0) map.push({ id: entry });
    const position = place < 0 ? map.length - 1 : place;
    if (typeof map[position] === "string") {
      if (!make) return [undefined, ""];
      map[position] = { of: map[position] };
    }
    map = map[position];
  } else if (typeof map === "string") {
    if (!make && keys[0] !== TAKEN[top]) return [undefined, ""];
    map = plan[top] = { [TAKEN[top]]: map };
  } else if (typeof map !== "object" || map === null) {
    if (!make) return [undefined, ""];
    map = plan[top] = {};
  }
  for (const key of keys.slice(0, -1)) {
    if (typeof map[key] !== "object" || map[key] === null) {
      if (!make) return [undefined, ""];
      map[key] = {};
    }
    map = map[key];
  }
  return [map, keys[keys.length - 1]];
}

// Whether a path is the name that is all of a section, or may be: `light: helmet-lamp`.
function isName(path) {
  const { top, entry, keys } = steps(path);
  const isFree = plan[top] === undefined || typeof plan[top] === "string";
  return entry === undefined && keys.length === 1 && keys[0] === TAKEN[top] && isFree;
}

// Writes a value; an empty one is taken away, with the maps that it leaves empty.
function write(path, value) {
  if (isName(path)) {
    if (value !== "") plan[steps(path).top] = value;
    else delete plan[steps(path).top];
    return;
  }
  const [map, key] = holder(path, value !== "");
  if (!map) return;
  if (value !== "") map[key] = /^(0|[1-9]\d{0,8})$/.test(value) ? Number(value) : value;
  else delete map[key];
  if (value === "") tidy(path);
}

function tidy(path) {
  const { top, entry, keys } = steps(path);
  for (let count = keys.length - 1; count >= 0; count -= 1) {
    const inner = top + (entry === undefined ? "" : `[${entry}]`) + keys.slice(0, count).map((key) => "." + key).join("");
    if (count === 0 && entry !== undefined) return;
    const [map, key] = holder(inner, false);
    if (!map || typeof map[key] !== "object" || Object.keys(map[key]).length > 0) return;
    delete map[key];
  }
}

// The entries of a list, by their names; what was said of those that stay is kept.
function list(name, names, taken) {
  const known = Array.isArray(plan[name]) ? plan[name] : [];
  const entries = names.map((one) => known.find((entry) => idOf(entry) === one) || (taken ? one : { id: one }));
  if (entries.length > 0) plan[name] = entries;
  else delete plan[name];
}

// ---- Asking the server.

async function ask(what, about) {
  const body = JSON.stringify({
    name: main.dataset.name, plan, digest, about: about || "", not_known: [...notKnown],
  });
  const options = { method: "POST", body, headers: { "Content-Type": "application/json" } };
  main.dataset.asking = String(Number(main.dataset.asking || 0) + 1);
  try {
    const answer = await fetch("../do/" + what, options);
    return { status: answer.status, html: await answer.text() };
  } catch {
    const says = "<p class='problems'>The command that serves this page has ended. What you filled in before is kept: start it again, and open the address that it prints.</p>";
    return { status: 0, html: says };
  } finally {
    main.dataset.asking = String(Number(main.dataset.asking) - 1);
  }
}

let turn = 0;

// Checks what is there; of several on the way the last counts.
async function check(about) {
  const mine = (turn += 1);
  const started = performance.now();
  const answer = await ask("check", about);
  if (mine !== turn) return 200;
  at("standing").innerHTML = answer.html;
  main.dataset.took = String(Math.round(performance.now() - started));
  main.dataset.turn = String(mine);
  const said = at("standing").querySelector(".standing, .problems .outcome");
  const problem = at("standing").querySelector(".problems li");
  at("said").innerHTML = (said ? said.innerHTML : "") + (problem ? `<span>${problem.innerHTML}</span>` : "");
  return answer.status;
}

// What was changed is kept before anything is saved.
let keeping = Promise.resolve();
let wasSound = true;

// Of a field after which it cannot be checked any more, it is said that something is wrong with it.
async function changed(field) {
  unsaved = true;
  showSaving();
  const checked = check("changed");
  keeping = Promise.all([keeping, checked]);
  const isSound = (await checked) === 200;
  if (field) field.setAttribute("aria-invalid", String(wasSound && !isSound));
  wasSound = isSound;
}

// How often each part was asked for: of several answers on the way the last is shown.
const asked = {};

async function show(id, what, about) {
  const mine = (asked[id] = (asked[id] || 0) + 1);
  const answer = await ask(what, about);
  const drawn = drawnFrom(answer.html);
  await fillOpened(at(id), drawn);
  if (mine === asked[id]) renew(at(id), drawn);
  return answer;
}

// What is opened in a part is opened in what comes in its place, with its fields.
async function fillOpened(part, drawn) {
  const opened = [...part.querySelectorAll("[data-part][open]")].map((fold) => fold.dataset.part);
  const again = [...drawn.querySelectorAll("[data-part]")].filter((fold) => opened.includes(fold.dataset.part));
  await Promise.all(again.map(async (fold) => {
    const answer = await ask("part", fold.dataset.part);
    fold.querySelector(".fields").innerHTML = answer.html;
    fold.open = true;
  }));
}

function showSaving() {
  at("unsaved").textContent = unsaved
    ? "Not saved yet; what you fill in is kept beside the file until then."
    : "The file says all of this.";
  at("report").href = "../report/" + encodeURIComponent(main.dataset.name);
}

// ---- What a person does.

// A number alone is in the unit that stands beside its field.
function withUnit(field) {
  const text = field.value.trim();
  const unit = field.dataset.unit;
  return unit && /^[-+]?\d+([.,]\d+)?$/.test(text) ? `${text.replace(",", ".")} ${unit}` : text;
}

async function fieldChanged(field) {
  const value = withUnit(field);
  if (field.type === "text") field.value = value;
  const listed = field.closest("[data-list]");
  if (listed) {
    const ticks = [...listed.querySelectorAll("input[type=checkbox]")];
    const names = ticks.length > 0
      ? ticks.filter((tick) => tick.checked).map((tick) => tick.value)
      : value.split(/[\s,]+/).filter((name) => name !== "");
    list(listed.dataset.list, names, ticks.length > 0);
    await Promise.all([changed(), show("parts", "form", "parts")]);
    await show("next", "next");
    return;
  }
  for (const place of field.dataset.places.split("\n")) write(place, value);
  alike(field, value);
  if (field.closest("[data-redraw]")) {
    await Promise.all([changed(field), redraw(field.id)]);
    await show("next", "next");
  } else {
    await changed(field);
  }
}

// The same fact in another part of the page.
function alike(field, value) {
  for (const other of document.querySelectorAll("[data-places]")) {
    if (other !== field && other.dataset.places === field.dataset.places) other.value = value;
  }
}

async function redraw(focused) {
  await Promise.all([show("top", "form", "top"), show("parts", "form", "parts")]);
  if (document.activeElement === document.body && at(focused)) at(focused).focus();
}

async function askOn() {
  for (const field of at("next").querySelectorAll("[data-places]")) {
    if (field.value === "") field.dataset.places.split("\n").forEach((place) => notKnown.add(place));
  }
  await show("next", "next");
  const again = at("next").querySelector("input, select");
  if (again) again.focus();
}

// Shows what was asked for beside the plan, and leads there who cannot see it come.
async function beside(what, about) {
  at("more").textContent = "Working…";
  await show("more", what, about);
  at("more").focus();
}

// What a slider is at, written when it rests.
let resting;
function slid(slider) {
  const value = [slider.value, slider.dataset.ofUnit].filter((part) => part).join(" ");
  at("slid").textContent = value;
  slider.setAttribute("aria-valuetext", value);
  clearTimeout(resting);
  resting = setTimeout(async () => {
    const { slides, from, to } = slider.dataset;
    write(slides, value);
    alike({ dataset: { places: slides } }, value);
    const had = document.activeElement === slider;
    await Promise.all([changed(), show("more", "range", [slides, from, to].join("\n"))]);
    if (had && at("slider")) at("slider").focus();
  }, 400);
}

async function save(name) {
  await keeping;
  const answer = await show("saved", "save", name);
  const done = at("saved").querySelector("[data-saved]");
  if (answer.status === 200 && done && done.dataset.saved === main.dataset.name) {
    digest = done.dataset.digest;
    unsaved = false;
    showSaving();
  } else if (answer.status === 200 && done) {
    location.href = encodeURIComponent(done.dataset.saved);
  }
  at("saved").focus();
}

const DOES = {
  next: askOn,
  save: () => save(""),
  "save-as": () => save(at("other-name").value.trim()),
  tried: () => beside("tried"),
  "range-draw": () => beside("range", "light.draw"),
  "range-ambient": () => beside("range", "conditions.ambient"),
  choose: () => beside("choose"),
  take: async (button) => {
    plan.cells = JSON.parse(button.dataset.cells);
    at("more").textContent = "";
    await Promise.all([changed(), redraw("standing")]);
    await show("next", "next");
  },
  forget: async () => {
    if (unsaved && !confirm("What is not saved is lost then. Take what the file says?")) return;
    await ask("forget");
    location.reload();
  },
};

document.addEventListener("change", (event) => {
  if (event.target.matches("[data-places], [data-list] input")) fieldChanged(event.target);
});
document.addEventListener("input", (event) => {
  if (event.target.dataset.slides) slid(event.target);
});
document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-do]");
  if (button && DOES[button.dataset.do]) DOES[button.dataset.do](button);
});
document.addEventListener("toggle", (event) => {
  const fold = event.target;
  if (!fold.open || fold.dataset.part === undefined) return;
  const fields = fold.querySelector(".fields");
  ask("part", fold.dataset.part).then((answer) => renew(fields, drawnFrom(answer.html)));
}, true);

showSaving();
check("");
show("next", "next");
