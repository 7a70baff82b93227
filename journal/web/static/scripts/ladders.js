// "Not sure yet" opens only after the question had its moment; the server looks at its clock as well.
(() => {
  "use strict";
  document.querySelectorAll("[data-wait-ms]").forEach((button) => {
    const wait = Number(button.dataset.waitMs);
    if (!(wait > 0)) return;
    button.disabled = true;
    setTimeout(() => {
      button.disabled = false;
    }, wait);
  });
})();
