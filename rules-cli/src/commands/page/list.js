// Begins a plan: the name is checked by the server, which has no page for one that cannot be.
"use strict";

const field = document.getElementById("new-name");

function begin() {
  location.href = "plan/" + encodeURIComponent(field.value.trim());
}

document.querySelector("[data-do=begin]").addEventListener("click", begin);
field.addEventListener("keydown", (event) => {
  if (event.key === "Enter") begin();
});
