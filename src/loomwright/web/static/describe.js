"use strict";
// A tap on a button of the answers sends the whole form: the field that was typed in keeps the
// cursor until then, so that its change does not set off by itself a moment before.
document.addEventListener("mousedown", (event) => {
  if (event.target.closest("#answers button")) event.preventDefault();
});

// A question that an address points to is opened, if it is folded away.
document.addEventListener("DOMContentLoaded", () => {
  const asked = location.hash && document.getElementById(location.hash.slice(1));
  const folded = asked && asked.closest("details");
  if (folded) {
    folded.open = true;
    asked.scrollIntoView();
  }
});

// What was unfolded stays so while answers are kept: more may be chosen there.
let unfolded = [];

function foldName(fold) {
  return fold.id || fold.closest("[id]").id;
}

document.addEventListener("htmx:before:swap", () => {
  unfolded = [...document.querySelectorAll("#body details[open]")].map(foldName);
});
document.addEventListener("htmx:after:swap", () => {
  for (const fold of document.querySelectorAll("#body details")) {
    if (unfolded.includes(foldName(fold))) fold.open = true;
  }
});
