"use strict";
// The screen of one review: the recording, the drawing, the card, and corrections in place.
// Everything here is also a plain link or form, so that the page works without it.

document.documentElement.classList.add("has-script");

const review = document.getElementById("review");
const address = review.dataset.address;
const scroller = document.getElementById("track-scroll");
const talk = document.getElementById("talk-scroll");
const panel = document.getElementById("panel");
const panelClose = document.getElementById("panel-close");
const cardPlace = document.getElementById("card-place");
const video = document.getElementById("video");
const offsetField = document.getElementById("offset");
const saidNow = document.getElementById("said-now");

document.querySelectorAll(".needs-script").forEach((one) => { one.hidden = false; });

let clearSaid = 0;
function say(words, stays = false) {
  clearTimeout(clearSaid);
  saidNow.textContent = words;
  if (words && !stays) clearSaid = setTimeout(() => { saidNow.textContent = ""; }, 4000);
}

// --- The recording: a local file, never sent; class time is its time less the offset. ---

const offsetKey = `reviewkit offset ${address}`;
let recording = "";

function offsetSeconds() {
  const value = Number.parseFloat(offsetField.value);
  return Number.isFinite(value) ? value : 0;
}

function keepOffset() {
  document.getElementById("offset-shown").textContent = String(offsetSeconds());
  try { localStorage.setItem(offsetKey, String(offsetSeconds())); } catch { /* not kept, then */ }
}

try { offsetField.value = localStorage.getItem(offsetKey) ?? "0"; } catch { /* starts at 0 */ }
document.getElementById("offset-shown").textContent = String(offsetSeconds());

function classMs() {
  return Math.round(1000 * (video.currentTime - offsetSeconds()));
}

function showVideoButtons() {
  document.querySelectorAll(".needs-video").forEach((one) => { one.hidden = !recording; });
}

function useRecording(file) {
  if (recording) URL.revokeObjectURL(recording);
  recording = file ? URL.createObjectURL(file) : "";
  review.classList.toggle("has-recording", Boolean(file));
  if (file) video.src = recording;
  else video.removeAttribute("src");
  document.getElementById("screen").hidden = !file;
  document.getElementById("screen").classList.toggle("audio", Boolean(file) && file.type.startsWith("audio/"));
  showVideoButtons();
  follow();
}

document.getElementById("media").addEventListener("change", (event) => {
  document.getElementById("media-problem").hidden = true;
  useRecording(event.target.files[0]);
});
video.addEventListener("error", () => {
  if (!recording) return;
  useRecording(null);
  document.getElementById("media-problem").hidden = false;
});
offsetField.addEventListener("change", () => { keepOffset(); follow(); });
document.getElementById("offset-here").addEventListener("click", () => {
  const first = talk.querySelector(".line[data-starts]");
  const words = first ? Number(first.dataset.starts) / 1000 : 0;
  offsetField.value = (video.currentTime - words).toFixed(1);
  keepOffset();
  follow();
  say("Shifted: the first words of the transcript are at this moment.");
});

function lineAt(atMs) {
  let found = null;
  for (const line of talk.querySelectorAll(".line[data-starts]")) {
    if (Number(line.dataset.starts) > atMs) break;
    found = line;
  }
  return found;
}

function markLine(line) {
  talk.querySelector(".line.now")?.classList.remove("now");
  line?.classList.add("now");
}

function scrollTalkTo(line) {
  if (!line || line.offsetParent === null) return;
  const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
  talk.scrollTo({ top: line.offsetTop - talk.clientHeight / 3, behavior: calm ? "auto" : "smooth" });
}

let following = null;
function follow() {
  if (!recording) return;
  const now = classMs();
  const svg = document.getElementById("track");
  const end = Number(svg.dataset.end);
  const share = `${Math.min(100, Math.max(0, (100 * now) / end))}%`;
  const moving = svg.querySelector(".now");
  moving.setAttribute("x1", share);
  moving.setAttribute("x2", share);
  if (!video.paused) keepInSight((now / end) * scroller.scrollWidth);
  const line = lineAt(now);
  if (line !== following) {
    following = line;
    markLine(line);
    scrollTalkTo(line);
  }
}

function keepInSight(x) {
  const left = scroller.scrollLeft, width = scroller.clientWidth;
  if (x < left || x > left + width * 0.9) scroller.scrollLeft = Math.max(0, x - width * 0.2);
}

let frame = 0;
function tick() {
  follow();
  frame = video.paused || video.ended ? 0 : requestAnimationFrame(tick);
}
video.addEventListener("play", () => { if (!frame) frame = requestAnimationFrame(tick); });
for (const name of ["seeked", "timeupdate", "loadedmetadata"]) video.addEventListener(name, follow);

function jump(link) {
  const atMs = Number(link.dataset.at);
  const line = lineAt(atMs);
  if (recording) {
    video.currentTime = Math.max(0, atMs / 1000 + offsetSeconds());
    video.play().catch(() => {});
    following = null;
    follow();
    return;
  }
  markLine(line);
  scrollTalkTo(line);
  const box = talk.getBoundingClientRect();
  if (box.bottom < 80 || box.top > innerHeight - 80) {
    document.getElementById("talk").scrollIntoView();
    line?.querySelector("a")?.focus({ preventScroll: true });
  }
  if (panel.classList.contains("open") && isNarrow()) closePanel(false);
}

// --- The drawing: zoom by its width, walk through it with the arrows. ---

const CLOSEST_PX_PER_S = 16;
const MINUTE_PX = 44;
let zoom = 1;

function svgNow() { return document.getElementById("track"); }

function mostZoom() {
  const seconds = Number(svgNow().dataset.end) / 1000;
  return Math.max(1, (CLOSEST_PX_PER_S * seconds) / Math.max(1, scroller.clientWidth));
}

function setZoom(wanted, aroundX = scroller.clientWidth / 2) {
  const share = (scroller.scrollLeft + aroundX) / Math.max(1, scroller.scrollWidth);
  zoom = Math.min(mostZoom(), Math.max(1, wanted));
  drawZoom();
  scroller.scrollLeft = share * scroller.scrollWidth - aroundX;
  document.querySelector("[data-zoom=out]").disabled = zoom <= 1;
  document.querySelector("[data-zoom=in]").disabled = zoom >= mostZoom();
}

function drawZoom() {
  const svg = svgNow();
  svg.setAttribute("width", `${100 * zoom}%`);
  const pxPerMinute = (60000 * scroller.clientWidth * zoom) / Number(svg.dataset.end);
  svg.classList.toggle("close", pxPerMinute >= MINUTE_PX);
  for (const box of svg.querySelectorAll(".box")) fitWords(box);
}

const FEWEST_LETTERS = 7;

function fitWords(box) {
  const room = box.querySelector(".room").getBoundingClientRect().width - 8;
  const texts = [...box.querySelectorAll(".fits")];
  for (const text of texts) {
    text.dataset.full ??= text.textContent;
    text.classList.remove("out");
    text.textContent = text.dataset.full;
    const width = text.getComputedTextLength();
    if (width <= room) continue;
    const letters = Math.floor((text.dataset.full.length * room) / width) - 1;
    if (letters < FEWEST_LETTERS) text.classList.add("out");
    else text.textContent = `${text.dataset.full.slice(0, letters).trimEnd()}…`;
  }
  const number = box.querySelector(".number");
  if (!number) return;
  number.classList.remove("out");
  number.classList.toggle("shown", texts[0].classList.contains("out"));
  if (number.getComputedTextLength() > room + 6) number.classList.add("out");
}

document.querySelector(".toolbar").addEventListener("click", (event) => {
  const way = event.target.closest("[data-zoom]")?.dataset.zoom;
  if (way === "in") setZoom(zoom * 1.6);
  if (way === "out") setZoom(zoom / 1.6);
  if (way === "fit") setZoom(1);
});

function itemsOf(lane) {
  return [...svgNow().querySelectorAll(".item")]
    .filter((one) => !lane || one.dataset.lane === lane)
    .sort((a, b) => Number(a.dataset.at) - Number(b.dataset.at));
}

function nearest(items, atMs) {
  return items.reduce((best, one) =>
    !best || Math.abs(one.dataset.at - atMs) < Math.abs(best.dataset.at - atMs) ? one : best, null);
}

function stopAt(item, isFocused = true) {
  svgNow().querySelectorAll(".item").forEach((one) => one.setAttribute("tabindex", "-1"));
  item.setAttribute("tabindex", "0");
  if (!isFocused) return;
  item.focus({ preventScroll: true });
  const box = item.getBoundingClientRect(), around = scroller.getBoundingClientRect();
  if (box.left < around.left || box.left > around.right - 24) {
    scroller.scrollLeft += box.left - around.left - around.width / 3;
  }
}

function walk(item, key) {
  const lanes = [...new Set([...svgNow().querySelectorAll(".item")].map((one) => one.dataset.lane))];
  const row = itemsOf(item.dataset.lane), at = row.indexOf(item);
  if (key === "ArrowRight") return row[Math.min(row.length - 1, at + 1)];
  if (key === "ArrowLeft") return row[Math.max(0, at - 1)];
  if (key === "Home") return row[0];
  if (key === "End") return row[row.length - 1];
  const other = lanes[lanes.indexOf(item.dataset.lane) + (key === "ArrowDown" ? 1 : -1)];
  return other ? nearest(itemsOf(other), Number(item.dataset.at)) : item;
}

scroller.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  const item = event.target.closest(".item");
  if (event.key === "+" || event.key === "=") setZoom(zoom * 1.6);
  else if (event.key === "-") setZoom(zoom / 1.6);
  else if (event.key === "0") setZoom(1);
  else if (item && ["ArrowRight", "ArrowLeft", "ArrowUp", "ArrowDown", "Home", "End"].includes(event.key)) {
    stopAt(walk(item, event.key));
  } else return;
  event.preventDefault();
});

function setUpTrack() {
  const first = svgNow().querySelector(".item");
  if (first) stopAt(svgNow().querySelector(".item.chosen") || first, false);
  drawZoom();
}

// --- The card: what was chosen, beside the page or as a sheet over its foot. ---

let chosen = "";
// The latest choice; its card may still be on its way, and earlier ones come too late.
let asked = null;
let cameFrom = null;

function isNarrow() { return matchMedia("(max-width: 68rem)").matches; }

function showChosen() {
  document.querySelectorAll(".chosen").forEach((one) => one.classList.remove("chosen"));
  if (!chosen) return;
  document.querySelectorAll(`.item[data-item="${chosen}"]`).forEach((one) => one.classList.add("chosen"));
  document.getElementById(chosen)?.classList.add("chosen");
}

function fillCard(page) {
  const card = page.getElementById("card");
  if (!card) return false;
  cardPlace.replaceChildren(document.importNode(card, true));
  panelClose.hidden = false;
  panel.classList.add("open");
  showVideoButtons();
  return true;
}

async function fetchPage(url, options) {
  const answer = await fetch(url, options);
  return [answer, new DOMParser().parseFromString(await answer.text(), "text/html")];
}

async function choose(item, isFocused = true) {
  const mine = asked = { item };
  const [answer, page] = await fetchPage(`${address}/about/${item}`);
  if (asked !== mine) return true;
  if (!answer.ok || !fillCard(page)) return false;
  chosen = item;
  showChosen();
  if (isFocused) {
    panel.scrollTop = cardPlace.scrollTop = 0;
    panel.focus({ preventScroll: isNarrow() });
    if (isNarrow()) keepAboveSheet();
  }
  return true;
}

function keepAboveSheet() {
  const drawing = cameFrom?.closest(".track") ? scroller : cameFrom;
  if (!drawing) return;
  const box = drawing.getBoundingClientRect(), room = panel.getBoundingClientRect().top;
  if (box.bottom > room) scrollBy(0, Math.min(box.top - 8, box.bottom - room + 8));
}

function closePanel(isFocused = true) {
  panel.classList.remove("open");
  panelClose.hidden = true;
  cardPlace.replaceChildren(emptyCard.cloneNode(true));
  chosen = "";
  asked = null;
  showChosen();
  if (isFocused && cameFrom?.isConnected) cameFrom.focus({ preventScroll: true });
}

const emptyCard = cardPlace.firstElementChild.cloneNode(true);
panelClose.addEventListener("click", () => closePanel());
document.addEventListener("keydown", (event) => {
  if (event.key === "Escape" && panel.classList.contains("open")) closePanel();
});

// --- Corrections in place: send the form, take the new parts of the page it leads to. ---

function takeParts(page) {
  const left = scroller.scrollLeft, top = talk.scrollTop;
  const open = [...document.querySelectorAll("[data-swap=short] details")].map((one) => one.open);
  for (const part of document.querySelectorAll("[data-swap]")) {
    const anew = page.querySelector(`[data-swap="${part.dataset.swap}"]`);
    if (anew) part.replaceChildren(...[...anew.childNodes].map((one) => document.importNode(one, true)));
  }
  document.querySelectorAll("[data-swap=short] details").forEach((one, at) => { one.open = open[at] ?? false; });
  setUpTrack();
  scroller.scrollLeft = left;
  talk.scrollTop = top;
  following = null;
  follow();
  showChosen();
}

async function send(form, fields) {
  const url = form.getAttribute("action");
  const isInCard = panel.contains(form);
  const isLexicon = url === "/lexicon";
  say("Working it out anew…", true);
  review.setAttribute("aria-busy", "true");
  try {
    let [answer, page] = await fetchPage(url, { method: "POST", body: fields });
    if (!answer.ok) {
      // A card tells of its own fault, in its place.
      if (isInCard && fillCard(page)) say("");
      else say(page.querySelector(".problem, .lead, [role=alert]")?.textContent.trim() || "That could not be kept.");
      return;
    }
    if (isLexicon) {
      say("Kept in your lexicon. Listening anew with it…", true);
      [answer, page] = await fetchPage(address);
      if (!answer.ok) { location.assign(address); return; }
    }
    takeParts(page);
    if (asked && !(await choose(asked.item, false))) closePanel(false);
    say(isLexicon ? "Kept in your lexicon." : url.endsWith("/undo") ? "Taken back." : "Kept. The review was made anew.");
    if (isInCard && chosen) panel.focus({ preventScroll: true });
    else if (!document.activeElement || document.activeElement === document.body) {
      document.getElementById("corrections-h").focus({ preventScroll: true });
    }
  } catch {
    say("The program does not answer. Is it still running?", true);
  } finally {
    review.removeAttribute("aria-busy");
  }
}

// One after the other: nothing pressed meanwhile is lost, and a second press sends nothing twice.
let turn = Promise.resolve();
const inLine = new WeakSet();

document.addEventListener("submit", (event) => {
  if (!event.target.matches("[data-swaps]")) return;
  event.preventDefault();
  const form = event.target;
  if (inLine.has(form)) return;
  inLine.add(form);
  const fields = new URLSearchParams(new FormData(form));
  turn = turn.then(() => send(form, fields)).finally(() => inLine.delete(form));
});

document.addEventListener("click", (event) => {
  if (event.ctrlKey || event.metaKey || event.shiftKey || event.button !== 0) return;
  const taken = event.target.closest("[data-take]");
  if (taken) {
    const tenths = Math.max(0, Math.round(classMs() / 100));
    const form = taken.form;
    form.elements[`${taken.dataset.take}_minutes`].value = Math.floor(tenths / 600);
    form.elements[`${taken.dataset.take}_seconds`].value = ((tenths % 600) / 10).toFixed(1);
    return;
  }
  const link = event.target.closest("a.item, a.choose, a.at");
  if (!link) return;
  event.preventDefault();
  if (link.matches(".at")) {
    jump(link);
    return;
  }
  cameFrom = link;
  if (link.matches(".item")) stopAt(link, false);
  const go = () => location.assign(link.href);
  choose(link.dataset.item).then((isShown) => { if (!isShown) go(); }, go);
});

document.getElementById("print").addEventListener("click", () => print());
// On paper the drawing is as wide as the page, whatever the window: words are fitted to that.
const PAPER_PX = 600;
let zoomOnScreen = 1;
addEventListener("beforeprint", () => {
  zoomOnScreen = zoom;
  scroller.style.width = `${PAPER_PX}px`;
  setZoom(1);
});
addEventListener("afterprint", () => {
  scroller.style.width = "";
  setZoom(zoomOnScreen);
});

setUpTrack();
setZoom(isNarrow() ? Number(svgNow().dataset.end) / 1000 * 1.2 / Math.max(1, scroller.clientWidth) : 1, 0);
addEventListener("resize", () => setZoom(zoom, 0));
