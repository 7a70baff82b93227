// Keeps the class overview current: asks every 2 s for the moving part and puts it in when it moved.
// Stops while nobody looks, backs off while the journal does not answer.
"use strict";
(() => {
  const place = document.getElementById("overview-now");
  const heard = document.getElementById("heard");
  if (!place) return;
  const EVERY_MS = 2000;
  const SLOWEST_MS = 30000;
  let wait_ms = EVERY_MS;
  let timer = 0;
  let etag = "";

  function plan(ms) {
    clearTimeout(timer);
    timer = setTimeout(ask, ms + Math.random() * ms * 0.1 - ms * 0.1);
  }

  function address() {
    const part = place.querySelector(".now-part");
    const query = new URLSearchParams({ shown: part.dataset.shown, since: part.dataset.since });
    return `${place.dataset.href}?${query}`;
  }

  async function ask() {
    if (document.hidden) return;
    try {
      const headers = etag ? { "If-None-Match": etag } : {};
      const answer = await fetch(address(), { headers, cache: "no-store", redirect: "manual" });
      if (answer.type === "opaqueredirect" || answer.status === 401) return location.reload();
      if (answer.status !== 304 && !answer.ok) throw new Error(String(answer.status));
      if (answer.status === 200) put(await answer.text(), answer.headers.get("ETag"));
      heard.hidden = true;
      wait_ms = EVERY_MS;
    } catch {
      heard.hidden = false;
      wait_ms = Math.min(wait_ms * 2, SLOWEST_MS);
    }
    plan(wait_ms);
  }

  function put(html, newEtag) {
    // What is under a finger or holds the focus is not taken away; the next answer puts it in.
    if (place.querySelector(":active")) return;
    const focused = place.contains(document.activeElement) ? document.activeElement : null;
    const label = focused && (focused.getAttribute("aria-label") || focused.textContent);
    place.innerHTML = html;
    etag = newEtag || "";
    if (window.htmx) window.htmx.process(place);
    if (!focused) return;
    const same = [...place.querySelectorAll("a, button")].find(
      (one) => (one.getAttribute("aria-label") || one.textContent) === label,
    );
    if (same) same.focus();
  }

  document.addEventListener("visibilitychange", () => { if (!document.hidden) plan(0); });
  document.body.addEventListener("journal-news", () => { etag = ""; plan(0); });
  plan(EVERY_MS);
})();
