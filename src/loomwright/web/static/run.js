"use strict";
// The place that was touched opens beside the drawing; without this file it is a page.

let openPart = "";

function panel() {
  return document.getElementById("part");
}

function markPart(element) {
  for (const link of document.querySelectorAll("a[data-part][aria-current]")) link.removeAttribute("aria-current");
  if (!element) return;
  for (const link of document.querySelectorAll(`a[data-part="${element}"]`)) link.setAttribute("aria-current", "true");
}

async function showPart(path) {
  const element = new URL(path, location.href).pathname.split("/").pop();
  await htmx.ajax("GET", path, { target: "#part", swap: "outerHTML" });
  openPart = element;
  markPart(element);
  panel().focus({ preventScroll: true });
}

function closePart() {
  const link = document.querySelector(`a[data-part="${openPart}"]`);
  openPart = "";
  markPart("");
  const empty = document.createElement("aside");
  empty.id = "part";
  empty.className = "place";
  empty.hidden = true;
  panel().replaceWith(empty);
  if (link) link.focus({ preventScroll: true });
}

document.addEventListener("click", (event) => {
  if (event.defaultPrevented || event.button || event.metaKey || event.ctrlKey || event.shiftKey) return;
  const link = event.target.closest("a[data-part], a[data-place]");
  if (link) {
    event.preventDefault();
    showPart(link.getAttribute("href"));
    return;
  }
  if (event.target.closest(".place .close")) {
    event.preventDefault();
    closePart();
    return;
  }
  for (const open of document.querySelectorAll(".chooser[open]")) if (!open.contains(event.target)) open.open = false;
});

document.addEventListener("keydown", (event) => {
  if (event.key !== "Escape") return;
  const open = document.querySelector(".chooser[open]");
  if (open) open.open = false;
  else if (panel() && !panel().hidden) closePart();
});

// After another command: say it, close the list, and read the open place anew.
document.addEventListener("htmx:after:swap", () => {
  const run = document.getElementById("energised");
  const said = document.getElementById("said-run");
  if (!run || !said || said.textContent === run.dataset.says) return;
  said.textContent = run.dataset.says;
  for (const open of document.querySelectorAll(".chooser[open]")) open.open = false;
  const link = openPart && document.querySelector(`a[data-part="${openPart}"]`);
  if (link) htmx.ajax("GET", link.getAttribute("href"), { target: "#part", swap: "outerHTML" }).then(() => markPart(openPart));
});
