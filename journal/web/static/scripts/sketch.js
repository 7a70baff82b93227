// An answer that is drawn: strokes of a finger on a grid of 1000 x 600, sent as JSON in the field "sketch".
// Without this script the area stays hidden and the words are the way to answer.
(() => {
  "use strict";
  const SVG = "http://www.w3.org/2000/svg";
  const WIDTH = 1000;
  const HEIGHT = 600;
  const MOST_STROKES = 200; // what is kept at most, and the same for points
  const MOST_POINTS = 5000;
  const FINEST = 1.5; // how far a line may leave the finger's path, in units of the grid

  const dialog = document.getElementById("draw");
  if (!dialog?.showModal) return;
  const area = document.getElementById("draw-area");
  const drawn = document.getElementById("drawn");
  const full = document.getElementById("draw-full");
  const undo = document.getElementById("draw-undo");
  const clear = document.getElementById("draw-clear");
  const field = dialog.closest("form").querySelector("[name=sketch]");

  let strokes = read(field.value);
  let cleared = null; // what "Clear" took away: "Undo" brings it back
  let fresh = null; // the stroke under the finger: pointer, points and its line

  // ---- what was sent and came back ----
  function read(text) {
    try {
      return JSON.parse(text)
        .filter((points) => Array.isArray(points) && points.length)
        .map((points) => points.map(([x, y]) => toGrid(x, y)));
    } catch {
      return [];
    }
  }

  function toGrid(x, y) {
    const inside = (value, most) => Math.min(most, Math.max(0, Math.round(Number(value)) || 0));
    return [inside(x, WIDTH), inside(y, HEIGHT)];
  }

  // ---- one stroke ----
  function pointOf(event) {
    const box = area.getBoundingClientRect();
    return toGrid(((event.clientX - box.left) / box.width) * WIDTH, ((event.clientY - box.top) / box.height) * HEIGHT);
  }

  function begin(event) {
    if (fresh || event.button !== 0) return; // a resting palm draws nothing
    event.preventDefault();
    if (strokes.length >= MOST_STROKES) {
      full.textContent = "This sketch is full. Take a line away, or tap Done.";
      return;
    }
    area.setPointerCapture(event.pointerId);
    const points = [pointOf(event)];
    fresh = { pointer: event.pointerId, points, line: lineOf(points) };
    area.append(fresh.line);
  }

  function goOn(event) {
    if (fresh?.pointer !== event.pointerId) return;
    const passed = event.getCoalescedEvents?.() ?? [];
    for (const one of passed.length ? passed : [event]) {
      const point = pointOf(one);
      const last = fresh.points.at(-1);
      if (point[0] === last[0] && point[1] === last[1]) continue;
      fresh.points.push(point);
      fresh.line.classList.remove("tap");
      fresh.line.points.appendItem(placeOf(point));
    }
  }

  function end(event) {
    if (fresh?.pointer !== event.pointerId) return;
    strokes.push(simplify(fresh.points, FINEST));
    [fresh, cleared] = [null, null];
    thinOut();
    keep();
  }

  // ---- fewer points, the same line ----
  // Ramer (1972), Douglas and Peucker (1973): keep the point that lies farthest from the chord, then look at both sides.
  function simplify(points, tolerance) {
    const keep = new Set([0, points.length - 1]);
    const spans = [[0, points.length - 1]];
    while (spans.length) {
      const [first, last] = spans.pop();
      let farthest = 0;
      let at = -1;
      for (let index = first + 1; index < last; index += 1) {
        const distance = distanceTo(points[first], points[last], points[index]);
        if (distance > farthest) [farthest, at] = [distance, index];
      }
      if (farthest > tolerance) {
        keep.add(at);
        spans.push([first, at], [at, last]);
      }
    }
    return points.filter((_, index) => keep.has(index));
  }

  function distanceTo([x1, y1], [x2, y2], [x, y]) {
    const length = (x2 - x1) ** 2 + (y2 - y1) ** 2;
    const along = length ? ((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / length : 0;
    const part = Math.min(1, Math.max(0, along));
    return Math.hypot(x - x1 - part * (x2 - x1), y - y1 - part * (y2 - y1));
  }

  function thinOut() {
    const count = () => strokes.reduce((sum, points) => sum + points.length, 0);
    for (let tolerance = 2 * FINEST; count() > MOST_POINTS; tolerance *= 2) {
      strokes = strokes.map((points) => simplify(points, tolerance));
    }
  }

  // ---- what is seen, and what is sent ----
  function placeOf([x, y]) {
    return Object.assign(area.createSVGPoint(), { x, y });
  }

  function lineOf(points) {
    const line = document.createElementNS(SVG, "polyline");
    for (const point of points) line.points.appendItem(placeOf(point));
    if (points.length === 1) {
      // A tap leaves a dot: a line without length would not show.
      line.points.appendItem(placeOf([points[0][0] + 0.1, points[0][1]]));
      line.classList.add("tap");
    }
    return line;
  }

  function show() {
    area.replaceChildren(...strokes.map(lineOf));
    drawn.replaceChildren(...strokes.map(lineOf));
    drawn.toggleAttribute("hidden", !strokes.length);
    document.getElementById("draw-words").textContent = strokes.length ? "Change the sketch" : "Add a sketch";
    full.textContent = "";
    undo.disabled = !strokes.length && !cleared;
    clear.disabled = !strokes.length && !field.value;
  }

  function keep() {
    field.value = strokes.length ? JSON.stringify(strokes) : "";
    show();
  }

  // A stroke is no gesture of the page: else a browser may take the tap after it for the end of a swipe.
  area.addEventListener("touchstart", (event) => event.preventDefault(), { passive: false });
  area.addEventListener("pointerdown", begin);
  area.addEventListener("pointermove", goOn);
  area.addEventListener("pointerup", end);
  area.addEventListener("pointercancel", end);
  undo.addEventListener("click", () => {
    if (strokes.length) strokes.pop();
    else if (cleared) [strokes, cleared] = [cleared, null];
    keep();
  });
  clear.addEventListener("click", () => {
    cleared = strokes.length ? strokes : null;
    strokes = [];
    keep();
  });
  document.getElementById("draw-open").addEventListener("click", () => dialog.showModal());
  document.getElementById("draw-done").addEventListener("click", () => dialog.close());
  document.getElementById("sketch").hidden = false;
  if (strokes.length) {
    // What came back and left the area was drawn at its edge: it is sent as it is seen.
    thinOut();
    keep();
  } else {
    show();
  }
})();
