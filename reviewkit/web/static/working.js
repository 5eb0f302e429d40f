"use strict";
// Ask how far a review is until it is over, then go where it led.

document.documentElement.classList.add("has-script");

const steps = document.querySelector("[data-working]");
const said = document.querySelector("[data-said]");
const told = document.querySelector("[data-told]");
let shown = -1;

function show(at) {
  if (at === shown) return;
  shown = at;
  [...steps.children].forEach((item, place) => {
    item.className = place < at ? "passed" : place === at ? "now" : "";
    if (place === at) item.setAttribute("aria-current", "step");
    else item.removeAttribute("aria-current");
  });
  if (steps.children[at]) said.textContent = steps.children[at].textContent;
}

async function look() {
  let wait = 400;
  try {
    const answer = await fetch(steps.dataset.working);
    if (!answer.ok) {
      location.reload();
      return;
    }
    const state = await answer.json();
    if (state.next) {
      location.replace(state.next);
      return;
    }
    show(state.step);
    told.textContent = state.told;
  } catch {
    said.textContent = "The program does not answer. Is it still running?";
    said.classList.remove("hidden");
    wait = 3000;
  }
  setTimeout(look, wait);
}

look();
