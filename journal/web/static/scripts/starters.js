// A tapped sentence can be taken back by a second tap; one that is left open ("We think it will")
// puts the pencil into the field above, so that the child goes on where the starter ends.
(() => {
  "use strict";
  const OPEN_END = /[^.!?]$/;

  const chosen = new WeakMap();

  function remember(radio) {
    const group = radio.closest("fieldset");
    chosen.set(group, radio.checked ? radio : null);
  }

  document.addEventListener("click", (event) => {
    const radio = event.target;
    if (!(radio instanceof HTMLInputElement) || !radio.name.endsWith("_starter")) return;
    const group = radio.closest("fieldset");
    if (chosen.get(group) === radio) {
      radio.checked = false;
    } else if (OPEN_END.test(radio.value)) {
      const field = document.getElementById(radio.name.replace(/_starter$/, ""));
      if (field) field.focus();
    }
    remember(radio);
  });

  document.querySelectorAll("input[name$=_starter]:checked").forEach(remember);
})();
