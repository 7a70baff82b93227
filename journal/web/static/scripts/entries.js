// Entries on their way to the journal: kept on the tablet until the journal has said what became of each.
// An entry is {id, body, label, made, state: "waiting" | "refused", sentence}. Sending one twice is harmless: its id is the same.
// With `strike` it is taken back as soon as the journal has it; without a body it is in already and only to be taken back.

const PAUSES_MS = [1500, 3000, 6000, 12000, 20000];
const ANSWER_WITHIN_MS = 10000;
const REFUSALS = new Set([404, 409, 413, 422, 423]);

export function openQueue(groupId, address, tell) {
  const key = `journal.entries.${groupId}`;
  let inMemory = null; // only where the tablet refuses to keep anything
  let sending = false;
  let failures = 0;
  let timer = 0;

  function read() {
    if (inMemory) return inMemory;
    try {
      return JSON.parse(localStorage.getItem(key) || "[]");
    } catch {
      return [];
    }
  }

  function write(entries) {
    try {
      localStorage.setItem(key, JSON.stringify(entries));
      inMemory = null;
    } catch {
      inMemory = entries;
    }
    tell.changed(entries, inMemory === null);
  }

  // Read again before each change: another page of the same tablet may have changed the list.
  const change = (id, changes) => write(read().map((entry) => (entry.id === id ? { ...entry, ...changes } : entry)));
  const remove = (id) => write(read().filter((entry) => entry.id !== id));

  async function send() {
    if (sending) return;
    sending = true;
    clearTimeout(timer);
    try {
      for (let entry = next(); entry; entry = next()) {
        const answer = await put(address, entry);
        if (answer.kept) {
          failures = 0;
          remove(entry.id);
          if (answer.parked) tell.parked(answer.parked);
          else tell.kept(entry, answer.trial);
        } else if (answer.refused) {
          change(entry.id, { state: "refused", sentence: answer.sentence });
          tell.refused(entry, answer.sentence);
        } else {
          tell.waiting(answer.sentence);
          later();
          break;
        }
      }
    } finally {
      sending = false;
    }
  }

  const next = () => read().find((entry) => entry.state === "waiting");

  function later() {
    const pause = PAUSES_MS[Math.min(failures, PAUSES_MS.length - 1)];
    failures += 1;
    // Forty tablets lose the network in the same second; they must not all come back in the same one.
    timer = setTimeout(send, pause * (0.75 + Math.random() / 2));
  }

  addEventListener("online", send);
  document.addEventListener("visibilitychange", () => document.hidden || send());
  addEventListener("storage", (event) => event.key === key && tell.changed(read(), true));
  tell.changed(read(), true);
  send();

  return {
    add(entry) {
      const made = { page: performance.timeOrigin, ms: performance.now() };
      write([...read(), { ...entry, made, state: "waiting", sentence: "" }]);
      return send();
    },
    sendAgain(id, mended) {
      const kept = read().find((entry) => entry.id === id);
      if (kept) change(id, { state: "waiting", sentence: "", body: kept.body && { ...kept.body, ...mended } });
      return send();
    },
    // Nothing is dropped in silence: the journal may have an entry although its answer was never heard here.
    strike(id, label) {
      if (read().some((entry) => entry.id === id)) change(id, { strike: true });
      else write([...read(), { id, label, strike: true, state: "waiting", sentence: "" }]);
      return send();
    },
    drop: remove,
    isEmpty: () => read().length === 0,
  };
}

async function put(address, entry) {
  const first = entry.body ? await ask(address + entry.id, "PUT", entry) : null;
  const response = entry.strike && (!first || first.ok) && (first || !entry.body) ? await ask(`${address}${entry.id}/strike`, "POST") : first;
  if (!response) return { sentence: "" };
  // It came late and belongs to no session: the teacher has it now.
  if (response.status === 202) return { kept: true, parked: (await response.json()).sentence };
  if (response.ok) return { kept: true, trial: await response.json().catch(() => ({})) };
  const problem = await response.json().catch(() => ({}));
  const told = Object.values(problem.errors || {}).flat();
  const sentence = [...new Set(told.length ? told : [problem.detail || "The journal could not take this."])].join(" ");
  return REFUSALS.has(response.status) || response.status === 400 ? { refused: true, sentence } : { sentence };
}

async function ask(address, method, entry) {
  const response = await fetchWithin(address, method, entry);
  return response && response.status === 400 && (await renewToken()) ? fetchWithin(address, method, entry) : response;
}

async function fetchWithin(address, method, entry) {
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), ANSWER_WITHIN_MS);
  const body = entry && JSON.stringify({ ...entry.body, sent_at: clockNow(entry) });
  try {
    return await fetch(address, { method, headers: sendingHeaders(), body, signal: stop.signal });
  } catch {
    return null;
  } finally {
    clearTimeout(timer);
  }
}

// What this tablet's clock says now: beside `logged_at` it tells the journal how long the entry waited, however wrong
// the clock is. A clock that is set back meanwhile is seen by the time since the page was opened, which only goes on.
function clockNow({ body, made }) {
  const waited = made?.page === performance.timeOrigin ? performance.now() - made.ms : 0;
  return new Date(Math.max(Date.now(), Date.parse(body.logged_at) + waited)).toISOString();
}

export function sendingHeaders() {
  return { "Content-Type": "application/json", Accept: "application/json", "X-CSRFToken": token().content };
}

const token = () => document.querySelector('meta[name="csrf-token"]');

// A page that slept over a new sign-in holds an old token; a fresh copy of the page holds the right one.
async function renewToken() {
  try {
    const text = await (await fetch(location.href)).text();
    const fresh = new DOMParser().parseFromString(text, "text/html").querySelector('meta[name="csrf-token"]');
    if (!fresh || fresh.content === token().content) return false;
    token().content = fresh.content;
    return true;
  } catch {
    return false;
  }
}
