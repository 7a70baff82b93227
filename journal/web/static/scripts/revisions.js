// Says while the form is filled in how much a test will tell, and what everything costs so far.
(() => {
  "use strict";

  function showHowMany() {
    const told = document.getElementById("how-many");
    if (!told) return;
    const count = document.querySelectorAll("#changes .pick input:checked").length;
    const which = count === 0 ? "none" : count === 1 ? "one" : "more";
    told.querySelectorAll("[data-changes]").forEach((line) => {
      line.hidden = line.dataset.changes !== which;
    });
  }

  function showCost() {
    const spent = document.getElementById("spent");
    if (!spent) return;
    let hundredths = Number(spent.dataset.spent);
    document.querySelectorAll("[data-price]").forEach((field) => {
      // What is no number to the server is told when the form is sent; until then it costs nothing.
      if (!new RegExp(spent.dataset.number).test(field.value)) return;
      const amount = Number(field.value.replace(/\s/g, "").replace(",", "."));
      if (Number.isFinite(amount) && amount > 0) hundredths += amount * Number(field.dataset.price);
    });
    spent.textContent = (Math.round(hundredths) / 100).toFixed(2);
    const over = document.getElementById("over-budget");
    over.hidden = Math.round(hundredths) <= Number(over.dataset.budget);
  }

  document.addEventListener("input", () => {
    showHowMany();
    showCost();
  });
  showHowMany();
  showCost();
})();
