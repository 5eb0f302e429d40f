"use strict";
// The class clock. Where the class is follows from the machine's clock alone: the moment it was
// last started and where it was then. A window that slept is right again as soon as it wakes.
(() => {
  const $ = (id) => document.getElementById(id);
  const plan = JSON.parse($("class").textContent);
  const stretches = plan.stretches;
  const clock = $("clock");
  const keys = $("keys");
  const calm = matchMedia("(prefers-reduced-motion: reduce)");
  const TICK_MS = 100;
  const NEAR_MS = 5000;
  const CALL_SHOWN_MS = 5000;
  // Behind by more than this, the window has slept: what it missed is not sounded any more.
  const SLEPT_MS = 1500;
  // Of a move's name, as parts of its full size; the smallest may take two lines.
  const NAME_SIZES = [1, 0.85, 0.7, 0.55, 0.45];
  // Of the words to say, in the size of other words, the largest first.
  const SIZES = [2.4, 2.1, 1.85, 1.6, 1.4, 1.2, 1, 0.85, 0.7];
  if (!stretches.length) return;

  const begin = stretches[0].start;
  const end = stretches.at(-1).end;
  // at: where the class was when it was last started or stopped; since: when that was, or null.
  let at = begin;
  let since = null;
  let seen = begin;
  let shown = null;
  let audio = null;
  let lock = null;

  const position = () => Math.min(end, since === null ? at : at + Math.max(0, Date.now() - since));
  const isRunning = () => since !== null;
  const isOver = () => position() >= end;

  function placeOf(now) {
    let place = 0;
    while (place < stretches.length - 1 && stretches[place + 1].start <= now) place += 1;
    return place;
  }

  function figures(ms) {
    const seconds = Math.ceil(ms / 1000);
    if (seconds < 100) return String(seconds);
    return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
  }

  function clockText(ms) {
    const seconds = Math.floor(Math.max(0, ms) / 1000);
    const [hours, minutes] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60];
    const rest = String(seconds % 60).padStart(2, "0");
    return hours ? `${hours}:${String(minutes).padStart(2, "0")}:${rest}` : `${minutes}:${rest}`;
  }

  function set(id, text) {
    if ($(id).textContent !== text) $(id).textContent = text;
  }

  function showStretch(one) {
    shown = one;
    clock.dataset.kind = one.kind;
    set("part", one.part);
    set("place", one.place);
    set("name", one.name);
    set("side", one.side);
    const next = $("next");
    next.replaceChildren();
    const label = document.createElement("span");
    label.textContent = one.next ? "Next: " : "The last one";
    next.append(label, one.next);
    const say = $("say");
    say.replaceChildren(...one.say.map((point) => {
      const line = document.createElement("li");
      line.textContent = point.text;
      if (point.last) {
        const last = document.createElement("b");
        last.textContent = ` ${point.last} last time`;
        line.append(last);
        line.className = "last";
      }
      return line;
    }));
    fit();
  }

  // Names and words are as large as their places allow.
  function fit() {
    const name = $("name");
    name.classList.remove("long");
    for (const share of NAME_SIZES) {
      name.style.setProperty("--size", share);
      if (name.scrollWidth <= name.clientWidth && name.scrollHeight <= name.clientHeight + 1) break;
    }
    name.classList.toggle("long", name.scrollWidth > name.clientWidth);
    fitWords();
  }

  function fitWords() {
    const say = $("say");
    for (const size of SIZES) {
      say.style.fontSize = `${size}em`;
      const isWide = [...say.children].some((line) => line.scrollWidth > say.clientWidth);
      if (!isWide && $("call").offsetHeight + say.offsetHeight <= $("words").clientHeight) return;
    }
  }

  function show() {
    const now = position();
    const one = stretches[placeOf(now)];
    if (one !== shown) showStretch(one);
    const left = figures(one.end - now);
    set("left", left);
    $("left").classList.toggle("four", left.length === 4);
    $("left").classList.toggle("five", left.length > 4);
    clock.classList.toggle("near", one.end - now <= NEAR_MS && !isOver());
    set("elapsed", `${clockText(now)} of ${clockText(plan.total)}`);
    const call = one.calls.find((each) => each.at <= now && now < each.at + CALL_SHOWN_MS);
    set("call", isOver() ? "The class is over." : call ? call.text : "");
    $("say").hidden = isOver();
    const stepMs = calm.matches ? 1000 : TICK_MS;
    const done = Math.floor((now - one.start) / stepMs) * stepMs / (one.end - one.start);
    $("done").style.transform = `scaleX(${Math.min(1, done).toFixed(4)})`;
    const state = isOver() ? "Over. R goes back to the beginning." : isRunning() ? "" : "Paused. Space starts.";
    set("state", `${state} ${audio ? "Sound is on." : ""} ${isRunning() ? "" : "? shows the keys."}`.trim());
  }

  function beep(pitch, lasts) {
    if (!audio) return;
    const tone = audio.createOscillator();
    const loudness = audio.createGain();
    const from = audio.currentTime;
    tone.frequency.value = pitch;
    loudness.gain.setValueAtTime(0.25, from);
    loudness.gain.exponentialRampToValueAtTime(0.001, from + lasts);
    tone.connect(loudness).connect(audio.destination);
    tone.start(from);
    tone.stop(from + lasts);
  }

  // Sound what lies between the last look and now: three short tones before an edge, a long one on it.
  function sound(from, to) {
    if (!audio || to <= from || to - from > SLEPT_MS) return;
    for (const one of stretches) {
      for (const before of [3000, 2000, 1000]) {
        const moment = one.end - before;
        if (from < moment && moment <= to && one.end - one.start > 5000) beep(660, 0.12);
      }
      if (from < one.end && one.end <= to) beep(990, 0.6);
      for (const call of one.calls) if (from < call.at && call.at <= to) beep(520, 0.2);
    }
  }

  function tick() {
    const now = position();
    sound(seen, now);
    seen = now;
    if (isOver() && isRunning()) pause();
    show();
  }

  async function stayAwake(isWanted) {
    try {
      if (isWanted && !lock && navigator.wakeLock) lock = await navigator.wakeLock.request("screen");
      if (!isRunning() && lock) {
        await lock.release();
        lock = null;
      }
    } catch {
      lock = null; // a screen that may go dark does not stop the clock
    }
  }

  function start() {
    if (isOver()) return;
    since = Date.now();
    void stayAwake(true);
  }

  function pause() {
    at = position();
    since = null;
    void stayAwake(false);
  }

  function goTo(ms) {
    at = ms;
    seen = ms;
    if (since !== null) since = Date.now();
  }

  // An arrow goes to a work interval; the rest before it is left out.
  function step(ways) {
    const now = position();
    const starts = stretches.filter((one) => one.kind === "work").map((one) => one.start);
    if (ways > 0) return goTo(starts.find((one) => one > now) ?? end);
    const earlier = starts.filter((one) => one < now - 2000);
    return goTo(earlier.at(-1) ?? begin);
  }

  async function toggleFull() {
    try {
      if (document.fullscreenElement) await document.exitFullscreen();
      else await document.documentElement.requestFullscreen();
    } catch {
      set("state", "This browser does not show pages full screen.");
    }
  }

  function toggleSound() {
    if (audio) {
      void audio.close();
      audio = null;
    } else if (window.AudioContext) {
      audio = new AudioContext();
      beep(660, 0.12);
    }
  }

  const DOES = {
    " ": () => (isRunning() ? pause() : start()),
    arrowleft: () => step(-1),
    arrowright: () => step(1),
    r: () => {
      pause();
      goTo(begin);
    },
    s: toggleSound,
    f: () => void toggleFull(),
    "?": () => (keys.open ? keys.close() : keys.showModal()),
  };

  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || event.repeat) return;
    const does = DOES[event.key.toLowerCase()];
    if (!does || (keys.open && event.key !== "?")) return;
    event.preventDefault();
    does();
    show();
  });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState !== "visible") return;
    lock = null;
    if (isRunning()) void stayAwake(true);
    tick();
  });
  addEventListener("resize", fit);
  setInterval(tick, TICK_MS);
  clock.hidden = false;
  show();
})();
