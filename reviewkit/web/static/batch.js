"use strict";
// Ask how far a batch is until it is over, then show what came of it.

document.documentElement.classList.add("has-script");

const part = document.querySelector("[data-batch]");
const told = document.querySelector("[data-told]");
let shown = "";

async function look() {
  let wait = 1500;
  try {
    const answer = await fetch(part.dataset.batch);
    if (!answer.ok) {
      location.reload();
      return;
    }
    const state = await answer.json();
    if (state.isOver) {
      location.reload();
      return;
    }
    if (told.textContent !== state.told) told.textContent = state.told;
    // Whoever reads in the table is not to lose their place for nothing.
    if (state.part !== shown && !part.contains(document.activeElement)) {
      part.innerHTML = state.part;
      shown = state.part;
    }
  } catch {
    told.textContent = "The program does not answer. Is it still running?";
    wait = 3000;
  }
  setTimeout(look, wait);
}

look();
