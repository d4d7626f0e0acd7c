// Shows a part of a page anew around what a person is doing in it. The field that has the focus stays the
// very same: in a new one a word half typed, or a choice half looked for, would be lost.
"use strict";

// What stands for the same field in a part that was drawn anew: by what it writes, else by its id.
function twinOf(field, drawn) {
  const { places } = field.dataset;
  const isTwin = (one) => (places ? one.dataset.places === places : field.id !== "" && one.id === field.id);
  return [...drawn.querySelectorAll("input, select")].find(isTwin);
}

// Everything about a field but what is being written in it.
function becomeLike(field, twin) {
  for (const { name, value } of twin.attributes) field.setAttribute(name, value);
  if (field.options && field.textContent !== twin.textContent) {
    const chosen = field.value;
    field.replaceChildren(...twin.childNodes);
    field.value = chosen;
  }
}

// Puts what is around `fresh` around `kept`, up to the whole part.
function putAround(kept, fresh, part) {
  while (kept !== part) {
    while (kept.previousSibling) kept.previousSibling.remove();
    while (kept.nextSibling) kept.nextSibling.remove();
    while (fresh.previousSibling) kept.parentNode.prepend(fresh.previousSibling);
    while (fresh.nextSibling) kept.parentNode.append(fresh.nextSibling);
    [kept, fresh] = [kept.parentNode, fresh.parentNode];
  }
}

function renew(part, drawn) {
  const field = document.activeElement;
  const twin = part !== field && part.contains(field) ? twinOf(field, drawn) : undefined;
  if (!twin) {
    part.replaceChildren(drawn);
    return;
  }
  becomeLike(field, twin);
  putAround(field, twin, part);
}

// HTML as elements that are not shown yet.
function drawnFrom(html) {
  const template = document.createElement("template");
  template.innerHTML = html;
  return template.content;
}
