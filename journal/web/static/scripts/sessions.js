// The form that starts a session: each challenge brings the distance that it proposes. What the teacher wrote stays.
const form = document.getElementById("start");
const challenge = form?.elements.challenge_id;

const proposed = () => form.querySelector(`[data-proposed-for="${challenge.value}"]`)?.textContent || "";

let before = form ? proposed() : "";
challenge?.addEventListener("change", () => {
  const distance = form.elements.distance;
  if (distance.value.trim() === before) distance.value = proposed();
  before = proposed();
});
