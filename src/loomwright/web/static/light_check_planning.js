"use strict";
// A plan that is ready begins by itself.
function sendReady() {
  const form = document.querySelector("form[data-send-now]");
  if (form && !form.dataset.sent) {
    form.dataset.sent = "yes";
    form.submit();
  }
}
document.addEventListener("htmx:after:swap", sendReady);
document.addEventListener("DOMContentLoaded", sendReady);
