// The page on which trials are logged: a name, a place. Without this script the same form is sent by its buttons.
import { openQueue, sendingHeaders } from "./entries.js";
import { makeId } from "./identifiers.js";

const form = document.getElementById("log");
const place = document.getElementById("place");
const told = document.getElementById("told");
const sticky = `journal.settings.${form.dataset.group}`;
const TWICE_MS = 700; // a finger that bounces is one tap

const CLOCK_TOLD_FROM_S = 3600; // said once a page, and only of a clock that nobody could take for right

let clockTold = false;
let openEnding = null; // a place that was tapped before a name
let lastTap = 0;

const queue = openQueue(form.dataset.group, form.dataset.put, {
  changed: showQueue,
  kept(entry, trial) {
    bringUpToDate();
    if (Math.abs(trial.clock_slow_s) >= CLOCK_TOLD_FROM_S && !clockTold) say(form.dataset.clockOff);
    clockTold ||= Math.abs(trial.clock_slow_s) >= CLOCK_TOLD_FROM_S;
  },
  parked(sentence) {
    bringUpToDate();
    say(sentence);
  },
  refused: () => bringUpToDate(),
  waiting: (sentence) => sentence && say(sentence),
});

// ---- one trial ----
function log(ending) {
  const tester = form.elements.student_id?.value;
  if (!tester) {
    openEnding = ending;
    say(form.dataset.askWho);
    document.querySelector("input[name=student_id]")?.focus({ preventScroll: true });
    return;
  }
  const own = Array.from(document.querySelectorAll(`[data-own="${tester}"]`));
  const missing = own.find((select) => !select.value);
  if (missing) {
    openEnding = ending;
    say(missing.dataset.ask);
    missing.focus();
    return;
  }
  const amount = form.elements.amount?.value.trim() || null;
  if (amount && !isNumber(amount)) {
    form.elements.amount.focus();
    return say(form.dataset.noNumber);
  }
  const now = Date.now();
  if (now - lastTap < TWICE_MS) return;
  lastTap = now;
  openEnding = null;
  say("");
  const shared = Array.from(document.querySelectorAll("input[name=shared]"), (input) => input.value);
  const handling = {};
  for (const select of document.querySelectorAll("[data-handling]")) handling[select.dataset.handling] = select.value;
  const body = {
    revision_ids: [...shared, ...own.map((select) => select.value)],
    student_id: tester,
    scribe_id: form.elements.scribe_id?.value || null,
    kind: kindNow(),
    logged_at: new Date().toISOString(),
    handling,
    amount,
    ...ending,
  };
  const name = document.querySelector(`input[name=student_id][value="${tester}"]`).dataset.name;
  mark(ending);
  queue.add({ id: makeId(), body, label: name });
  form.elements.value && (form.elements.value.value = "");
  for (const list of document.querySelectorAll("details[open]")) list.open = false;
}

const kindNow = () => form.elements.kind?.value || "practice";
// The server alone reads numbers; here a slip is caught while it still stands in its field.
const isNumber = (text) => new RegExp(form.dataset.number).test(text);

function endingOf(at) {
  const [kind, key] = at.split(":");
  if (kind === "zone") return { place: "panel", zone: key };
  if (kind === "bare") return { place: "panel" };
  if (kind === "misfire") return { misfire: key };
  if (kind === "measure") return { value: form.elements.value.value.trim() || null };
  return { place: kind };
}

form.addEventListener("submit", (event) => {
  event.preventDefault();
  const at = event.submitter?.value || "";
  if (!at) return;
  const ending = endingOf(at);
  if (at === "measure" && ending.value === null) return say(form.dataset.askMeasure);
  if (at === "measure" && !isNumber(ending.value)) return say(form.dataset.noNumber);
  log(ending);
});

document.addEventListener("change", (event) => {
  if (event.target.matches("[data-handling], [data-amount]")) keepSettings();
  if (event.target.matches("input[name=student_id], [data-own]") && openEnding) log(openEnding);
});

// ---- the panel: mm from the aim point, x to the right, y up ----
const data = place?.dataset;
const toMm = (x, y) => ({ x_mm: round((x - +data.aimX) / +data.scale), y_mm: round((+data.aimY - y) / +data.scale) });
const toPx = ({ x_mm, y_mm }) => [+data.aimX + x_mm * +data.scale, +data.aimY - y_mm * +data.scale];
const round = (number) => Math.round(number * 10) / 10;

place?.addEventListener("click", (event) => {
  const box = place.getBoundingClientRect();
  const x = ((event.clientX - box.left) / box.width) * +data.width;
  const y = ((event.clientY - box.top) / box.height) * +data.height;
  if (!onWall(x, y)) return say(data.offWall);
  hideCursor();
  log(toMm(x, y));
});

function onWall(x, y) {
  const [left, top, width, height] = data.wall.split(" ").map(Number);
  return x >= left && x <= left + width && y >= top && y <= top + height;
}

// The keyboard way: arrows move a ring over the panel (with Shift in small steps), Enter logs where it is.
let cursor = null;
const STEPS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
place?.addEventListener("keydown", (event) => {
  const step = STEPS[event.key];
  if (step) {
    event.preventDefault();
    const length = event.shiftKey ? 2 : 20;
    const from = cursor || { x_mm: 0, y_mm: 0 };
    const to = { x_mm: from.x_mm + step[0] * length, y_mm: from.y_mm + step[1] * length };
    if (cursor && !onWall(...toPx(to))) return;
    cursor = cursor ? to : from;
    moveRing("cursor", cursor);
    document.getElementById("cursor-words").textContent = `${cursor.x_mm} across, ${cursor.y_mm} up`;
  } else if (event.key === "Enter" && cursor) {
    event.preventDefault();
    log(cursor);
  }
});
place?.addEventListener("blur", hideCursor);

function moveRing(id, where) {
  const ring = document.getElementById(id);
  const [x, y] = toPx(where);
  ring.setAttribute("cx", x);
  ring.setAttribute("cy", y);
  ring.removeAttribute("visibility");
}

const hide = (id) => document.getElementById(id)?.setAttribute("visibility", "hidden");
function hideCursor() {
  cursor = null;
  hide("cursor");
}
const clearMark = () => hide("on-its-way");
const mark = (ending) => place && ending.x_mm !== undefined && moveRing("on-its-way", ending);

// ---- number pad and amount ----
document.addEventListener("click", (event) => {
  const button = event.target.closest("button[data-key], button[data-step]");
  if (!button) return;
  const input = document.getElementById(button.dataset.for);
  if (button.dataset.step) {
    const next = (Number(input.value.replace(",", ".")) || 0) + Number(button.dataset.step);
    input.value = String(Math.max(Number(input.min) || 0, Math.min(next, Number(input.max) || Infinity)));
    keepSettings();
  } else if (button.dataset.key === "back") input.value = input.value.slice(0, -1);
  else if (button.dataset.key === ".") input.value += input.value.includes(".") ? "" : input.value ? "." : "0.";
  else if (input.value.length < 9) input.value = (input.value === "0" ? "" : input.value) + button.dataset.key;
});
// The pad is there, so the tablet's own keyboard stays away.
document.querySelector("input[data-pad]")?.setAttribute("inputmode", "none");

// ---- what stays chosen ----
function keepSettings() {
  const kept = {};
  for (const field of document.querySelectorAll("[data-handling], [data-amount]")) kept[field.name] = field.value;
  try {
    localStorage.setItem(sticky, JSON.stringify(kept));
  } catch {
    // Then it holds for this page only.
  }
}

try {
  for (const [name, value] of Object.entries(JSON.parse(localStorage.getItem(sticky) || "{}"))) {
    const field = form.elements[name];
    const known = field?.matches("select") ? Array.from(field.options).some((option) => option.value === value) : field;
    if (known) field.value = value;
  }
} catch {
  // Nothing usable was kept.
}

// ---- take back ----
document.addEventListener("submit", async (event) => {
  if (event.target.id !== "take-back") return;
  event.preventDefault();
  const response = await fetch(event.target.dataset.strike, { method: "POST", headers: sendingHeaders() }).catch(() => null);
  if (response?.ok) return bringUpToDate();
  if (!response) {
    event.target.hidden = true;
    say(form.dataset.takenBackLater);
    return queue.strike(event.target.dataset.strike.split("/").at(-2), event.target.innerText.trim());
  }
  const problem = await response.json().catch(() => ({}));
  say(problem.detail || form.dataset.noNetwork);
  bringUpToDate();
});

// Without a network the newest entry is one that waits: that one is meant, not the last one that is in.
document.getElementById("take-back-waiting").addEventListener("click", (event) => {
  say(form.dataset.takenBackLater);
  clearMark();
  queue.strike(event.currentTarget.dataset.entry);
});

function offerTakeBack(entries) {
  const takeBackWaiting = document.getElementById("take-back-waiting");
  const newest = entries.filter((entry) => entry.state === "waiting").at(-1);
  const may = newest && !newest.strike && newest.body?.kind === "practice";
  takeBackWaiting.hidden = !may;
  takeBackWaiting.dataset.entry = may ? newest.id : "";
  takeBackWaiting.querySelector("span").textContent = may ? `Take back: ${newest.label}` : "";
  const kept = document.getElementById("take-back");
  if (kept && newest) kept.hidden = true;
}

// ---- what the page says ----
function say(sentence) {
  told.textContent = sentence;
  told.hidden = !sentence;
}

function showQueue(entries, isKept) {
  const queued = entries.filter((entry) => entry.state === "waiting");
  const [back, waiting] = [true, false].map((strike) => queued.filter((entry) => !!entry.strike === strike).length);
  const notice = document.getElementById("waiting");
  notice.hidden = queued.length === 0;
  const waits = waiting ? `${waiting} ${waiting === 1 ? "entry waits" : "entries wait"} for the network. ` : "";
  notice.querySelector("b").textContent = waits + (back ? `${back} ${back === 1 ? "entry is" : "entries are"} taken back.` : "");
  const kept = waiting ? `${waiting === 1 ? "It is" : "They are"} kept on this tablet.` : "The journal hears it when the network is there.";
  notice.querySelector("span span").textContent = isKept ? kept : "Leave this page open.";
  offerTakeBack(entries);
  const list = document.getElementById("refused");
  const lines = entries.filter((entry) => entry.state === "refused").map((entry) => {
    const line = document.getElementById("refused-line").content.cloneNode(true).firstElementChild;
    line.querySelector("b").textContent = `${entry.label}: not in yet.`;
    line.querySelector("span").textContent = entry.sentence;
    const [again, drop] = line.querySelectorAll("button");
    again.addEventListener("click", () => queue.sendAgain(entry.id, { kind: kindNow() }));
    drop.addEventListener("click", () => queue.drop(entry.id));
    return line;
  });
  list.replaceChildren(...lines);
  list.hidden = lines.length === 0;
}

async function bringUpToDate() {
  const response = await fetch(location.href).catch(() => null);
  if (!response?.ok || response.redirected) return;
  const fresh = new DOMParser().parseFromString(await response.text(), "text/html");
  if (fresh.getElementById("log")?.dataset.stamp !== form.dataset.stamp) return location.reload();
  for (const part of document.querySelectorAll("[data-live]")) {
    const other = fresh.getElementById(part.id);
    if (other) part.replaceWith(document.adoptNode(other));
  }
  clearMark();
  takeTurn();
}

// ---- a swap test: the one who is next is chosen, and each name has the device of its next turn ----
function takeTurn() {
  const turn = document.getElementById("turn");
  for (const choice of turn?.querySelectorAll("[data-field]") || []) {
    const select = form.elements[choice.dataset.field];
    if (select) select.value = choice.dataset.value;
  }
  const next = turn && document.querySelector(`input[name=student_id][value="${turn.dataset.student}"]`);
  if (next) next.checked = true;
}

document.addEventListener("visibilitychange", () => document.hidden || bringUpToDate());

// ---- waiting: the page opens by itself ----
async function askAgain() {
  if (!document.hidden) {
    const answer = await fetch(form.dataset.waits).then((response) => response.json()).catch(() => null);
    if (answer && answer.wait !== form.dataset.wait) return location.reload();
  }
  setTimeout(askAgain, 2000 + Math.random() * 1000);
}
if (form.dataset.wait) setTimeout(askAgain, 1500);
document.documentElement.classList.add("scripted");
