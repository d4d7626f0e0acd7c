// The tables of a bench. A value that was corrected is sent by its place; the server writes it into the
// file, and says why if it does not.
"use strict";

const main = document.getElementById("bench");
const told = document.getElementById("told");

function post(what, body) {
  const headers = { "Content-Type": "application/json" };
  return fetch("../do/" + what, { method: "POST", body: JSON.stringify(body), headers });
}

async function ask(what, body) {
  try {
    const answer = await post(what, body);
    told.innerHTML = await answer.text();
    return answer.status;
  } catch {
    told.textContent = "The command that serves this page has ended. Start it again.";
    return 0;
  }
}

// One correction after the other: each is about the file that the one before it left.
let before = Promise.resolve();

function correct(field) {
  before = before.then(async () => {
    const sheet = field.closest("[data-table]");
    const status = await ask("correct", {
      bench: main.dataset.name,
      table: sheet.dataset.table,
      digest: sheet.dataset.digest,
      row: Number(field.dataset.row),
      column: Number(field.dataset.column),
      value: field.value.trim(),
    });
    const saved = told.querySelector("[data-digest]");
    if (status === 200 && saved) {
      for (const other of document.querySelectorAll("[data-file]")) {
        if (other.dataset.file === saved.dataset.file) other.dataset.digest = saved.dataset.digest;
      }
    }
    field.setAttribute("aria-invalid", String(status !== 200));
  });
}

// What changed the rows of a table is shown with all of it, and told again there.
function anew(status) {
  if (status === 200) {
    sessionStorage.setItem("told", told.textContent);
    location.reload();
  } else told.focus();
}

async function takeIn(file) {
  anew(await ask("import", { bench: main.dataset.name, file: file.name, text: await file.text() }));
}

async function add(sheet) {
  const values = [...sheet.querySelectorAll("[data-new]")].map((field) => field.value.trim());
  const { table, digest } = sheet.dataset;
  anew(await ask("add", { bench: main.dataset.name, table, digest, values }));
}

// The sets of a light. One that is taken begins a plan, or goes on with that of the light.
async function choose(light) {
  const more = document.getElementById("more");
  more.textContent = "Working…";
  const plan = { format: 1, title: light, bench: "./" + main.dataset.name, light };
  const answer = await post("choose", { name: planOf(light), plan });
  more.innerHTML = await answer.text();
  more.dataset.light = light;
  more.focus();
}

const planOf = (light) => light.replace(/[^A-Za-z0-9-]/g, "-") + "-chosen.yaml";

async function take(button) {
  const { light } = document.getElementById("more").dataset;
  const plan = { format: 1, title: light, bench: "./" + main.dataset.name, light, cells: JSON.parse(button.dataset.cells) };
  if ((await ask("begin", { name: planOf(light), plan })) === 200) {
    location.href = "../plan/" + encodeURIComponent(planOf(light));
  } else told.focus();
}

document.addEventListener("change", (event) => {
  if (event.target.matches("[data-row]")) correct(event.target);
  if (event.target.id === "sheet" && event.target.files.length > 0) takeIn(event.target.files[0]);
});
document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-do]");
  if (!button) return;
  if (button.dataset.do === "add") add(button.closest("[data-table]"));
  if (button.dataset.do === "again") location.reload();
  if (button.dataset.do === "choose") choose(button.dataset.light);
  if (button.dataset.do === "take") take(button);
});
const place = document.getElementById("drop");
place.addEventListener("dragover", (event) => {
  event.preventDefault();
  place.classList.add("over");
});
place.addEventListener("dragleave", () => place.classList.remove("over"));
place.addEventListener("drop", (event) => {
  event.preventDefault();
  place.classList.remove("over");
  if (event.dataTransfer.files.length > 0) takeIn(event.dataTransfer.files[0]);
});

const said = sessionStorage.getItem("told");
if (said !== null) {
  told.textContent = said;
  sessionStorage.removeItem("told");
}
