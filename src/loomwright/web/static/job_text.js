"use strict";
// The job file is kept as it is typed: when the hand rests, if it can be used; when the field is
// left, as it is, so that nothing is lost.

const RESTS_MS = 1000;
const box = document.getElementById("f-text");
const form = box.form;
let resting = 0;
let isSending = false;
let isLeft = false;
let sent = box.value;
let kept = box.value;

function send() {
  clearTimeout(resting);
  if (isSending || box.value === kept) return;
  isSending = true;
  sent = box.value;
  form.elements.left.value = isLeft ? "1" : "";
  htmx.trigger(box, "typed");
}

function leave() {
  isLeft = true;
  send();
}

box.addEventListener("input", () => {
  isLeft = false;
  clearTimeout(resting);
  resting = setTimeout(send, RESTS_MS);
});
box.addEventListener("change", leave);
document.addEventListener("visibilitychange", () => document.hidden && leave());

// A change made while the last one was on its way follows it.
box.addEventListener("htmx:finally:request", () => {
  isSending = false;
  if (document.querySelector("#problems[data-kept]")) kept = sent;
  if (box.value === kept) changed.delete(form);
  else if (isLeft || box.value !== sent) resting = setTimeout(send, RESTS_MS);
});

// A tap on a complaint or on the button below leaves the cursor where it is.
document.addEventListener("mousedown", (event) => {
  if (event.target.closest("button[data-line], button[form=keep]")) event.preventDefault();
});
