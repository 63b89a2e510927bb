"use strict";
// The record: fields to sign in, and photos made smaller before they travel. Pages work without.

const WIDE = 1000;
const HIGH = 400;
const STEP = 4; // nearer points than this say nothing more
const LONGEST_SIDE = 2048;
const SMALL_ENOUGH = 1500000;
const FAITHFUL = 0.85;

// A field to sign in: strokes in its own units, drawn in the ink of the page.
function startPad(pad) {
  const canvas = pad.querySelector("canvas");
  const hidden = pad.querySelector("input[type=hidden]");
  const context = canvas.getContext("2d");
  const called = canvas.getAttribute("aria-label").replace(/, empty$/, "");
  let strokes = [];
  let now = null;

  function point(event) {
    const box = canvas.getBoundingClientRect();
    const inside = (value, most) => Math.max(0, Math.min(most, Math.round(value)));
    return [
      inside(((event.clientX - box.left) / box.width) * WIDE, WIDE),
      inside(((event.clientY - box.top) / box.height) * HIGH, HIGH),
    ];
  }
  function draw() {
    context.clearRect(0, 0, WIDE, HIGH);
    context.strokeStyle = getComputedStyle(canvas).color;
    context.lineWidth = 7;
    context.lineCap = "round";
    context.lineJoin = "round";
    for (const stroke of strokes) {
      context.beginPath();
      context.moveTo(...stroke[0]);
      for (const each of stroke.slice(1)) context.lineTo(...each);
      if (stroke.length === 1) context.lineTo(stroke[0][0] + 0.1, stroke[0][1]);
      context.stroke();
    }
  }
  function keep() {
    hidden.value = strokes.length ? JSON.stringify(strokes) : "";
    canvas.setAttribute("aria-label", called + (strokes.length ? ", signed" : ", empty"));
  }
  canvas.addEventListener("pointerdown", (event) => {
    if (!event.isPrimary || event.button > 0) return;
    event.preventDefault();
    canvas.setPointerCapture(event.pointerId);
    now = [point(event)];
    strokes.push(now);
    draw();
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!now || !event.isPrimary) return;
    const [x, y] = point(event);
    const [u, v] = now[now.length - 1];
    if (Math.hypot(x - u, y - v) < STEP) return;
    now.push([x, y]);
    draw();
  });
  for (const over of ["pointerup", "pointercancel"]) {
    canvas.addEventListener(over, () => {
      now = null;
      keep();
    });
  }
  pad.querySelector("[data-clear]").addEventListener("click", () => {
    strokes = [];
    draw();
    keep();
  });
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", draw);
  pad.hidden = false;
}

// A photo in at most this many pixels a side, upright; the file itself where that fails.
async function smaller(file) {
  const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  const share = Math.min(1, LONGEST_SIDE / Math.max(picture.width, picture.height));
  if (share === 1 && file.size <= SMALL_ENOUGH) return file;
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(picture.width * share);
  canvas.height = Math.round(picture.height * share);
  const context = canvas.getContext("2d");
  context.fillStyle = "#ffffff";
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  const made = await new Promise((done) => canvas.toBlob(done, "image/jpeg", FAITHFUL));
  return made ? new File([made], file.name, { type: "image/jpeg" }) : file;
}

async function shrinkAll(form) {
  for (const input of form.querySelectorAll("input[type=file]")) {
    if (!input.files.length) continue;
    const made = new DataTransfer();
    for (const file of input.files) made.items.add(await smaller(file).catch(() => file));
    input.files = made.files;
  }
}

function startShrinking(form) {
  let ready = false;
  form.addEventListener("submit", async (event) => {
    if (ready) return;
    event.preventDefault();
    form.querySelector("[data-shrinking]").hidden = false;
    await shrinkAll(form);
    ready = true;
    form.requestSubmit();
  });
}

document.querySelectorAll("[data-pad]").forEach(startPad);
document.querySelectorAll("form[data-shrink]").forEach(startShrinking);
