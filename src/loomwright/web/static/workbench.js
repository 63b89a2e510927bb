"use strict";
// Small helps; every page works without them.

// A complaint's button puts the cursor on its line of the job file.
function goToLine(number) {
  const text = document.querySelector("textarea[data-lines]");
  if (!text) return;
  const lines = text.value.split("\n");
  const start = lines.slice(0, number - 1).join("\n").length + (number > 1 ? 1 : 0);
  text.focus();
  text.setSelectionRange(start, start + lines[number - 1].length);
  const height = parseFloat(getComputedStyle(text).lineHeight);
  text.scrollTop = Math.max(0, (number - 4) * height);
  text.scrollIntoView({ block: "center" });
}

// Leaving with words that were not kept: the browser asks.
const changed = new Set();

document.addEventListener("input", (event) => {
  const form = event.target.closest("form[data-keep]");
  if (form) changed.add(form);
});
document.addEventListener("submit", (event) => changed.delete(event.target));
window.addEventListener("beforeunload", (event) => {
  if (changed.size) event.preventDefault();
});
document.addEventListener("click", (event) => {
  const button = event.target.closest("button[data-line]");
  if (button) goToLine(Number(button.dataset.line));
  if (event.target.closest("button[data-print]")) window.print();
});

// The workbench does not answer: say so, and ask again until it does.
const ASKS_AGAIN_MS = 3000;

document.addEventListener("htmx:error", ({ target, detail }) => {
  const asked = detail.ctx && detail.ctx.sourceEvent && detail.ctx.sourceEvent.type;
  if (!asked) return;
  document.getElementById("away").hidden = false;
  setTimeout(() => target.isConnected && htmx.trigger(target, asked), ASKS_AGAIN_MS);
});
document.addEventListener("htmx:after:request", () => {
  document.getElementById("away").hidden = true;
});
