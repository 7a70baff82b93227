// Keeps the line of the lane current: asks every 2 s, and says "ask" where nothing was heard for 10 s. Stops while nobody
// looks; what was heard before that is old when the page is looked at again.
"use strict";
(() => {
  const line = document.getElementById("lane");
  if (!line) return;
  const EVERY_MS = 2000;
  const ANSWER_WITHIN_MS = 4000;
  const UNHEARD_MS = 10000;
  let etag = "";
  let timer = 0;
  let asking = false;
  let state = line.dataset.made;
  let heard = moments();

  // Two clocks: one may stand while the tablet sleeps, the other may be set while it does not.
  function moments() {
    return [performance.now(), Date.now()];
  }

  function isHeard() {
    const now = moments();
    return heard.every((moment, which) => Math.abs(now[which] - moment) < UNHEARD_MS);
  }

  function show() {
    const shown = isHeard() ? state : "ask";
    if (line.dataset.state === shown) return;
    line.dataset.state = shown;
    for (const part of line.querySelectorAll("[data-lane]")) part.hidden = part.dataset.lane !== shown;
  }

  function plan(ms) {
    clearTimeout(timer);
    timer = setTimeout(ask, ms * (0.9 + Math.random() * 0.1));
  }

  async function ask() {
    if (document.hidden || asking) return;
    asking = true;
    const stop = new AbortController();
    const patience = setTimeout(() => stop.abort(), ANSWER_WITHIN_MS);
    const asked = moments();
    try {
      const headers = { Accept: "application/json", ...(etag && { "If-None-Match": etag }) };
      const answer = await fetch(line.dataset.href, { headers, cache: "no-store", redirect: "manual", signal: stop.signal });
      if (answer.status === 200) {
        const told = (await answer.json()).state;
        // A page of a network that asks for a sign-in is no answer of the journal.
        if (!line.querySelector(`[data-lane="${told}"]`)) throw new Error("no state");
        state = told;
        etag = answer.headers.get("ETag") || "";
      } else if (answer.status !== 304) throw new Error(String(answer.status));
      heard = asked;
    } catch {
      etag = "";
    } finally {
      clearTimeout(patience);
      asking = false;
    }
    show();
    plan(EVERY_MS);
  }

  document.addEventListener("visibilitychange", () => {
    show();
    if (!document.hidden) plan(0);
  });
  addEventListener("pageshow", (event) => event.persisted && plan(0));
  addEventListener("online", () => plan(0));
  setInterval(show, 500);
  show();
  plan(EVERY_MS);
})();
