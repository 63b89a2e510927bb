"use strict";
// One device of a light check: shows the step that is held, takes answers, follows the other
// device. Every step is in the page, so that it goes on without a link; what is answered then
// waits in the outbox.

const check = document.getElementById("check");
const about = check.dataset;
const steps = Number(about.steps);
const SILENT_MS = 12000;
const AGAIN_MS = [500, 1000, 2000, 4000, 8000];
const OTHER = { cab: "lamps", lamps: "cab" };
const WHO = { cab: "in the cab", lamps: "at the lamps" };

const stands = JSON.parse(about.stands);
let step = Number(about.step);
let seq = Number(about.seq);
let token = about.csrf;
let isLinked = false;
let here = {};
let waiting = [];
let heardAt = Date.now();
let stream = null;
let sending = false;
let again = false;
let failures = 0;
let retry = 0;

// The screen

const lookOf = (key) => document.querySelector(`.look[data-key="${CSS.escape(key)}"]`);
const stepOf = (number) => document.querySelector(`.step[data-step="${number}"]`);
const looksIn = (number) => [...(stepOf(number)?.querySelectorAll(".look") ?? [])];

function show(number) {
  const to = Math.max(0, Math.min(number, steps));
  const from = stepOf(step);
  const hadFocus = from?.contains(document.activeElement);
  const moved = to !== step;
  step = to;
  for (const each of document.querySelectorAll(".step")) each.hidden = Number(each.dataset.step) !== step;
  settleBar();
  if (!moved) return;
  for (const each of document.querySelectorAll("dialog[open]")) each.close("");
  window.scrollTo(0, 0);
  const head = stepOf(step)?.querySelector("h1");
  if (head && hadFocus) head.focus({ preventScroll: true });
  const act = stepOf(step)?.dataset.act ?? head?.textContent ?? "";
  document.getElementById("now").textContent = step < steps ? `Step ${step + 1}: ${act}` : act;
  sayAloud(act);
}

const KEPT = "Kept on this device.";
const KEPT_DOUBTED = "Kept on this device, judged by the band above. What it suggests comes when the link is back.";

// `waits`: the workbench does not have it yet, so that the verdict is this device's own.
function mark(key, found, standing, says, waits = false) {
  stands[key] = standing;
  const look = lookOf(key);
  if (!look) return;
  look.dataset.standing = standing;
  const line = look.querySelector("[data-found]");
  line.hidden = !found;
  line.querySelector("b").textContent = found;
  line.querySelector("[data-stands]").textContent = standing;
  const kept = look.querySelector("[data-waits]");
  kept.textContent = waits ? (["wrong", "doubtful"].includes(standing) ? KEPT_DOUBTED : KEPT) : "";
  const words = look.querySelector("[data-says]");
  words.textContent = says;
  words.hidden = !says;
  look.querySelector("[data-vehicle]").hidden = !["wrong", "doubtful"].includes(standing);
  const fold = look.closest("details");
  if (fold && ["wrong", "doubtful"].includes(standing)) fold.open = true;
}

// Once all is answered the way on is the one thing to do.
function settleBar() {
  const form = stepOf(step);
  const looks = looksIn(step);
  if (!form || !looks.length) return;
  const isDone = looks.every((each) => each.dataset.standing);
  const all = form.querySelector("[data-all]");
  const next = form.querySelector("[data-next]");
  if (all) all.hidden = isDone;
  if (next) next.classList.toggle("plain", Boolean(all) && !isDone);
}

// What is answered and how it stands, at every place of every step.
function settleProgress() {
  for (const form of document.querySelectorAll(".step[data-keys]")) {
    const done = form.dataset.keys.split(" ").filter((key) => stands[key]).length;
    const count = form.querySelector("[data-progress] b");
    if (count) count.textContent = String(done);
  }
  const last = document.querySelector(".step[data-places]");
  const found = Object.values(stands);
  const open = Number(last.dataset.places) - found.length;
  for (const item of last.querySelectorAll("[data-tally]")) {
    const same = found.filter((standing) => standing === item.dataset.tally).length;
    const number = same + (item.dataset.tally === "not tested" ? open : 0);
    item.querySelector("b").textContent = String(number);
    item.hidden = !number;
  }
  last.querySelector("[data-through]").textContent = open || found.includes("not tested") ? "Gone through" : "All seen";
}

function adopt(answers) {
  const pending = new Set(waiting.flatMap((item) => item.body.answers.map((each) => each.expectation)));
  for (const each of answers) {
    if (pending.has(each.expectation)) continue;
    mark(each.expectation, each.found ?? foundIn(each), each.standing, each.says);
  }
  settleProgress();
  settleBar();
}

function foundIn(answer) {
  const seen = answer.observation;
  if (!seen) return "not tested";
  return seen.word ?? `${Number(seen.value.toPrecision(6))}\u00a0${seen.quantity}`;
}

// The link

function tellLink() {
  const box = document.getElementById("link");
  const held = waiting.filter((item) => !item.refused);
  const count = held.reduce((sum, item) => sum + item.body.answers.length, 0);
  const other = OTHER[about.role];
  let state = "linked";
  let words = "Linked";
  if (!isLinked) {
    state = "lost";
    const kept = count
      ? `${count} ${count === 1 ? "answer is" : "answers are"} kept on this device and sent when it is back`
      : "what you answer is kept on this device and sent when it is back";
    words = `The link is lost. Go on: ${kept}. Keep this page open: without the link it cannot be loaded again.`;
  } else if (count) {
    state = "sending";
    words = `Sending ${count} kept ${count === 1 ? "answer" : "answers"}…`;
  } else if (other) {
    state = here[other] ? "linked" : "waiting";
    words = here[other] ? `Linked with the device ${WHO[other]}` : `Waiting for the device ${WHO[other]}`;
  }
  box.dataset.state = state;
  box.dataset.kept = String(held.length);
  document.body.dataset.link = state;
  if (box.firstElementChild.textContent !== words) box.firstElementChild.textContent = words;
}

function linked() {
  heardAt = Date.now();
  if (!isLinked) {
    isLinked = true;
    failures = 0;
    tellLink();
  }
}

function lost() {
  isLinked = false;
  tellLink();
}

function follow() {
  stream?.close();
  heardAt = Date.now();
  stream = new EventSource(`${about.events}&after=${seq}`);
  stream.onopen = () => {
    linked();
    send();
  };
  stream.onerror = () => {
    lost();
    if (stream.readyState === EventSource.CLOSED) setTimeout(follow, 2000);
  };
  stream.addEventListener("beat", linked);
  stream.addEventListener("here", (event) => {
    here = JSON.parse(event.data);
    linked();
    tellLink();
  });
  stream.addEventListener("check", (event) => {
    const said = JSON.parse(event.data);
    linked();
    if (said.seq <= seq) return;
    seq = said.seq;
    if (said.answers) adopt(said.answers);
    if (!waiting.length) show(said.step);
    if (said.what === "ended") location.assign(about.summary);
  });
}

// Sending

async function give(answers, to) {
  const item = {
    number: about.number,
    url: about.answers,
    at: Date.now(),
    body: { key: newMark(), answers, ...(to === undefined ? {} : { step: to }) },
  };
  waiting.push(item);
  tellLink();
  for (const each of answers) {
    const found = each.not_tested ? "not tested" : each.word ?? `${each.value}\u00a0${lookOf(each.expectation)?.dataset.unit ?? ""}`;
    mark(each.expectation, found, each.usual ? "normal for this vehicle" : standingOf(each), "", true);
  }
  settleProgress();
  settleBar();
  if (to !== undefined) show(to);
  item.id = await outbox.add(item);
  await send();
}

// How an answer stands, until the workbench has judged it.
function standingOf(answer) {
  if (answer.not_tested) return "not tested";
  const rule = JSON.parse(lookOf(answer.expectation)?.dataset.rule ?? "{}");
  if (answer.word !== undefined) {
    if (rule.words?.includes(answer.word)) return "right";
    return rule.doubtful?.includes(answer.word) ? "doubtful" : "wrong";
  }
  const isIn = (rule.low === null || answer.value >= rule.low) && (rule.high === null || answer.value <= rule.high);
  return isIn ? "right" : "wrong";
}

async function send() {
  again = true;
  if (sending) return;
  sending = true;
  clearTimeout(retry);
  try {
    let last = null;
    for (;;) {
      again = false;
      const item = (await outbox.all()).find((each) => !each.refused);
      if (!item && !again) break;
      if (!item) continue;
      const answer = await post(item);
      if (answer === null) return;
      waiting = waiting.filter((each) => each.body.key !== item.body.key);
      if (answer.refused) {
        await outbox.change({ ...item, refused: answer.refused });
        showRefused();
      } else {
        await outbox.remove(item.id);
        if (item.number === about.number) last = answer;
      }
      tellLink();
    }
    if (last && !waiting.length && last.seq >= seq) {
      adopt(last.answers);
      show(last.step);
    }
  } finally {
    sending = false;
  }
}

// Returns what the workbench says; null if it cannot be reached now.
async function post(item, isSecond = false) {
  const body = { ...item.body, age_s: Math.max(0, (Date.now() - item.at) / 1000) };
  let answer;
  try {
    answer = await fetch(item.url, {
      method: "POST",
      headers: { "content-type": "application/json", "x-csrf-token": token },
      body: JSON.stringify(body),
    });
  } catch {
    lost();
    return later();
  }
  if (answer.ok) {
    linked();
    return answer.json();
  }
  if (answer.status === 403 && !isSecond && (await freshToken())) return post(item, true);
  if (answer.status >= 500 || answer.status === 401 || answer.status === 403) return later();
  const said = await answer.json().catch(() => ({ problems: [] }));
  const words = said.problems?.map((each) => `${each.value}: ${each.fix}`).join("; ") || said.detail || "refused";
  return { refused: words };
}

function later() {
  retry = setTimeout(send, AGAIN_MS[Math.min(failures, AGAIN_MS.length - 1)]);
  failures += 1;
  return null;
}

async function freshToken() {
  try {
    const text = await (await fetch(location.href)).text();
    const found = new DOMParser().parseFromString(text, "text/html").getElementById("check");
    if (found) token = found.dataset.csrf;
    return Boolean(found);
  } catch {
    return false;
  }
}

async function showRefused() {
  const box = document.getElementById("refused");
  const items = (await outbox.all()).filter((each) => each.refused && each.number === about.number);
  box.hidden = !items.length;
  box.replaceChildren();
  for (const item of items) {
    const line = document.createElement("p");
    line.textContent = `Not taken: ${item.refused} `;
    const button = document.createElement("button");
    button.type = "button";
    button.className = "plain";
    button.textContent = "Throw it away";
    button.addEventListener("click", async () => {
      await outbox.remove(item.id);
      showRefused();
    });
    line.append(button);
    box.append(line);
  }
}

// Answering

function isFine(form, answers) {
  const given = new Map(answers.map((each) => [each.expectation, each]));
  return looksIn(Number(form.dataset.step)).every((look) => {
    const mine = given.get(look.dataset.key);
    const stands = mine ? (mine.usual ? "normal for this vehicle" : standingOf(mine)) : look.dataset.standing;
    return stands === "right" || stands === "normal for this vehicle";
  });
}

function answer(form, answers) {
  const at = Number(form.dataset.step);
  give(answers, isFine(form, answers) ? at + 1 : undefined);
}

document.addEventListener("submit", (event) => {
  const form = event.target.closest("form.step");
  if (!form || !event.submitter) return;
  event.preventDefault();
  const { name, value } = event.submitter;
  const looks = looksIn(Number(form.dataset.step));
  if (name === "go") give([], Number(value));
  if (name === "all_of" && value === "seen") {
    const open = looks.filter((each) => each.dataset.usual && !each.dataset.standing);
    answer(form, open.map((each) => ({ expectation: each.dataset.key, word: each.dataset.usual })));
  }
  if (name === "all_of" && value === "dead") {
    const section = event.submitter.closest(".part");
    const dead = [...section.querySelectorAll(".look[data-dark]")].filter((each) => each.dataset.unit && !each.dataset.standing);
    answer(form, dead.map((each) => ({ expectation: each.dataset.key, value: 0, note: "all dead pins answered together" })));
  }
  if (name === "answer") {
    const cut = value.indexOf("=");
    answer(form, [{ expectation: value.slice(0, cut), word: value.slice(cut + 1) }]);
  }
});

let asked = null;

function ask(dialog, look) {
  asked = look;
  dialog.returnValue = "";
  dialog.querySelector("h2").textContent = look.querySelector(".title").textContent;
  dialog.querySelector("[data-wanted]").textContent = `Must be ${look.querySelector(".must").textContent}`;
  for (const each of dialog.querySelectorAll("[data-words]")) each.hidden = each.dataset.words !== look.dataset.kind;
  dialog.showModal();
}

document.addEventListener("click", (event) => {
  const button = event.target.closest("button");
  const look = button?.closest(".look");
  if (!button) return;
  if (button.matches("[data-other]")) ask(document.getElementById("words"), look);
  if (button.matches("[data-pad]")) {
    const pad = document.getElementById("pad");
    pad.querySelector("input").value = "";
    pad.querySelector("[data-mend]").hidden = true;
    pad.querySelector("[data-unit]").textContent = look.dataset.unit;
    ask(pad, look);
    pad.querySelector("input").focus();
  }
  if (button.matches("[data-vehicle]")) sayUsual(look);
  if (button.matches("[data-digit]")) press(button.dataset.digit);
  if (button.matches("[data-count]")) countDown(button);
  if (button.matches("[data-aloud]")) switchAloud(button);
});

function press(digit) {
  const input = document.getElementById("pad-value");
  if (digit === "back") input.value = input.value.slice(0, -1);
  else if (digit === "-") input.value = input.value.startsWith("-") ? input.value.slice(1) : `-${input.value}`;
  else if (digit !== "." || !input.value.includes(".")) input.value += digit;
}

function typed() {
  const text = document.getElementById("pad-value").value.replace(",", ".").trim();
  return text === "" ? NaN : Number(text);
}

// Enter in the field keeps the reading, as the large button does; nonsense is told at once.
document.getElementById("pad")?.querySelector("form").addEventListener("submit", (event) => {
  const value = event.submitter?.value ?? "keep";
  if (value !== "keep" || Number.isFinite(typed())) return;
  event.preventDefault();
  event.currentTarget.querySelector("[data-mend]").hidden = false;
});

for (const dialog of document.querySelectorAll("dialog")) {
  dialog.addEventListener("close", () => {
    const word = dialog.returnValue;
    const look = asked;
    asked = null;
    if (!look || !word) return;
    const expectation = look.dataset.key;
    const form = look.closest("form");
    if (word === "not tested") answer(form, [{ expectation, not_tested: true }]);
    else if (dialog.id === "pad") answer(form, [{ expectation, value: typed() }]);
    else answer(form, [{ expectation, word }]);
  });
}

function sayUsual(look) {
  const found = look.querySelector("[data-found] b").textContent;
  const seen = look.dataset.unit ? { value: parseFloat(found) } : { word: found };
  answer(look.closest("form"), [{ expectation: look.dataset.key, usual: true, ...seen }]);
}

// Time to walk, and to look where the vehicle keeps a command on for a while only: a number that
// changes once a second, and words for what comes next.
const WALK_S = 10;

function countDown(button) {
  const line = button.nextElementSibling;
  const [number, word] = line.children;
  const lasts = Number(button.dataset.count);
  let left = lasts || WALK_S;
  line.hidden = false;
  button.disabled = true;
  number.textContent = String(left);
  word.textContent = "walk";
  const beat = setInterval(() => {
    left -= 1;
    number.textContent = left > 0 ? String(left) : "";
    const isThere = lasts ? left === lasts - WALK_S : left === 0;
    if (isThere) {
      word.textContent = "Look now";
      sayAloud("Look now");
    }
    if (left > 0) return;
    clearInterval(beat);
    button.disabled = false;
    if (lasts) word.textContent = "It goes off";
  }, 1000);
}

// Spoken cues: off until they are wanted, and remembered on this device.

const ALOUD = "loomwright.light-check.aloud";
const isAloud = () => localStorage.getItem(ALOUD) === "yes";

function sayAloud(words) {
  if (!("speechSynthesis" in window) || !isAloud()) return;
  speechSynthesis.cancel();
  speechSynthesis.speak(new SpeechSynthesisUtterance(words));
}

function switchAloud(button) {
  localStorage.setItem(ALOUD, isAloud() ? "no" : "yes");
  button.setAttribute("aria-pressed", String(isAloud()));
  sayAloud(stepOf(step)?.dataset.act ?? "");
}

// Beginning

async function begin() {
  for (const each of document.querySelectorAll("[data-other], [data-pad], [data-timer]")) each.hidden = false;
  for (const look of document.querySelectorAll(".look")) {
    look.querySelector("[data-vehicle]").hidden = !["wrong", "doubtful"].includes(look.dataset.standing);
  }
  const aloud = document.querySelector("[data-aloud]");
  aloud.hidden = !("speechSynthesis" in window);
  aloud.setAttribute("aria-pressed", String(isAloud()));
  waiting = (await outbox.all()).filter((item) => !item.refused && item.number === about.number);
  for (const item of waiting) {
    for (const each of item.body.answers) {
      mark(each.expectation, each.not_tested ? "not tested" : each.word ?? String(each.value), standingOf(each), "", true);
    }
    if (item.body.step !== undefined) step = item.body.step;
  }
  settleProgress();
  show(step);
  showRefused();
  follow();
  send();
  navigator.wakeLock?.request("screen").catch(() => {});
}

// A page that is left without a link does not open again; what was answered stays in the outbox.
window.addEventListener("beforeunload", (event) => {
  if (!isLinked) event.preventDefault();
});
window.addEventListener("offline", lost);
window.addEventListener("online", follow);
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "visible" && !isLinked) follow();
});
setInterval(() => {
  if (Date.now() - heardAt > SILENT_MS) {
    lost();
    follow();
  }
}, 3000);
begin();
