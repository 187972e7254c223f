"use strict";
// Talks to the board, handles presses, and keeps the data that the charts draw.

const byId = id => document.getElementById(id);
const state = {
  now: 0, heardAt: 0, speed: 1, paused: false, pace: 1, busy: false, open: null, plan: null,
  steps: [], step: -1, over: false, scene: null, screen: null, glow: 1, lines: [], edge: [], waves: [], frames: 0, missed: 0,
};
const keep = 600; // seconds of history that the slowest window can show

// ---- connection ----

const send = order => transport.send(order);
const words = bytes => new TextDecoder().decode(bytes);

/** Keeps an answer as a file of the person at the page. */
function keepFile(answer) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([answer.bytes], { type: answer.type }));
  link.download = answer.file;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
}

for (const link of document.querySelectorAll("[data-ask]")) {
  link.addEventListener("click", async () => {
    const answer = await transport.ask(link.dataset.ask);
    if (answer.ok) keepFile(answer);
    else trouble(words(answer.bytes));
  });
}

function trouble(said) {
  byId("trouble").hidden = !said;
  if (byId("trouble").textContent !== said) byId("trouble").textContent = said;
}

function take(news) {
  trouble(news.broken || state.refused || "");
  if (news.fresh) begin(news.fresh);
  Object.assign(state, { now: news.now, heardAt: performance.now(), speed: news.speed, paused: news.paused, pace: news.pace, busy: news.busy, step: news.step, over: news.over });
  if (byId("day").textContent !== news.day) byId("day").textContent = news.day;
  walk(state.step, state.over, state.paused);
  state.open = news.open ?? null;
  state.plan = news.plan ?? null;
  if (news.screen !== undefined) {
    state.screen = Uint8Array.from(atob(news.screen), c => c.charCodeAt(0));
    state.glow = news.glow;
    drawScreen(byId("screen"), state.screen, state.glow);
  }
  if (news.words !== undefined) tell(news.words);
  state.lines.push(...news.lines);
  state.edge.push(...news.edge);
  state.waves.push(...news.waves);
  for (const missed of news.missed) addMissed(missed);
  for (const frame of news.frames) addFrame(frame);
  forget();
}

/** The display in words, for who does not see it. It is said aloud when a press or the box itself has changed what it is about, not at each count. */
function tell(shown) {
  byId("screen").setAttribute("aria-label", "Display of the box: " + shown.words);
  if (place() === "box" && shown.told) byId("said").textContent = shown.words;
}

function begin(setup) {
  state.scene = setup.scene ?? null;
  state.steps = setup.steps ?? [];
  Object.assign(state, { lines: [], edge: [], waves: [], frames: 0, missed: 0 });
  byId("frames").replaceChildren();
  byId("no-frames").hidden = false;
  byId("count").textContent = "";
  const sea = byId("sea-form").elements, camera = byId("camera-form").elements;
  sea.kind.replaceChildren(...setup.kinds.map(kind => new Option(kind, kind, false, kind === setup.kind)));
  steadyOnly();
  sea.seed.value = setup.seed;
  sea.period.value = setup.period;
  sea.spread.value = Math.round(setup.spread * 100);
  byId("sea-words").textContent = setup.sea;
  camera.lagMs.value = setup.lagMs;
  camera.millivolts.value = setup.millivolts;
  for (const name of ["darkFrame", "mirrorLockUp", "continuous"]) camera[name].checked = setup[name];
  camera.dial.value = setup.dial === "bulb" ? "bulb" : [...camera.dial.options].find(o => Math.abs(o.value - setup.dialSeconds) < 1e-9)?.value ?? "1";
}

/** Drops what has scrolled out of every window; a line that is still on keeps its last change. */
function forget() {
  const from = state.now - keep;
  if (state.edge.length > 4000 && state.edge[0][0] < from) state.edge = state.edge.filter(e => e[0] >= from);
  if (state.waves.length > 600 && state.waves[0][2] < from) state.waves = state.waves.filter(w => w[2] >= from);
  if (state.lines.length > 4000) {
    const last = new Map();
    state.lines.forEach((change, i) => last.set(change[1], i));
    state.lines = state.lines.filter((change, i) => change[0] >= from || last.get(change[1]) === i);
  }
}

// ---- places of the page ----

const places = ["box", "mornings", "place", "logbook"];

/** The place that is shown; its name stands behind the # of the address. */
const place = () => places.includes(location.hash.slice(1)) ? location.hash.slice(1) : "box";

function goTo() {
  for (const name of places) byId("where-" + name).hidden = name !== place();
  for (const link of document.querySelectorAll("nav a")) {
    if (link.hash === "#" + place()) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  releaseAll();
  // The focus must not stay on an element that is now hidden.
  if (document.activeElement?.closest?.(".where[hidden]")) document.activeElement.blur();
  if (place() === "box") drawScreen(byId("screen"), state.screen, state.glow);
  document.dispatchEvent(new CustomEvent("place", { detail: place() }));
}

// ---- scenarios ----

/** Shows the step that is on; while the clock runs toward the next one there is nothing to press. */
function walk(step, over, paused) {
  byId("walk-offer").hidden = state.scene !== null;
  byId("walk-step").hidden = state.scene === null;
  document.body.classList.toggle("walking", state.scene !== null);
  if (state.scene === null) return;
  const at = state.steps[step];
  const title = at ? `${step + 1} of ${state.steps.length}: ${at.title}` : state.scene;
  if (byId("walk-title").textContent !== title) {
    byId("walk-title").textContent = title;
    byId("walk-words").textContent = at ? at.words : "The presses of this scenario play by themselves.";
  }
  byId("walk-on").hidden = state.steps.length === 0;
  byId("walk-on").disabled = over || !paused;
  byId("walk-hurry").hidden = state.steps.length === 0 || over || paused;
  byId("walk-on").textContent = over ? "The end" : "Go on";
}

const quiet = button => { if (document.activeElement === button) button.blur(); };

byId("walk-start").addEventListener("click", event => { send({ do: "morning" }); quiet(event.currentTarget); });
byId("walk-on").addEventListener("click", event => { send({ do: "on" }); if (event.detail > 0) quiet(event.currentTarget); });
byId("walk-hurry").addEventListener("click", event => { send({ do: "hurry" }); if (event.detail > 0) quiet(event.currentTarget); });
byId("walk-leave").addEventListener("click", event => { restart(); send({ do: "speed", speed: 1 }); quiet(event.currentTarget); });
byId("scene-file").addEventListener("change", async event => {
  const file = event.target.files[0];
  if (!file) return;
  const answer = await transport.ask("scene", new Uint8Array(await file.arrayBuffer()));
  state.refused = answer.ok ? "" : words(answer.bytes);
  event.target.value = "";
  event.target.blur();
});

// ---- frames ----

function listItem(kind, parts) {
  const item = document.createElement("li");
  if (kind) item.className = kind;
  for (const [name, text] of parts) {
    const p = document.createElement("p");
    p.className = name;
    p.textContent = text;
    item.append(p);
  }
  byId("frames").prepend(item);
  while (byId("frames").children.length > 120) byId("frames").lastChild.remove();
  byId("no-frames").hidden = true;
  return item;
}

function addFrame(frame) {
  state.frames = frame.number;
  const on = frame.backwashShare >= 0.5;
  const error = frame.exposureErrorStops;
  const stops = error === null || error === undefined ? (frame.cutShort ? "cut short" : "hand-held length")
    : `${error >= 0 ? "+" : "−"}${Math.abs(error).toFixed(3)} stop`
      + (Math.abs(error) > 0.15 && frame.dial ? `: the box wanted ${exposureWords(frame.commandedExposure)}, and the dial stood at ${exposureWords(frame.dial)}` : "");
  const turn = frame.msFromTurn / 1000;
  const item = listItem(on ? "on" : "", [
    ["soft", `${frame.number}  at ${clockWords(frame.opened, true)}`],
    ["exposure", exposureWords(frame.exposure)],
    ["", stops],
  ]);
  const share = document.createElement("div");
  share.className = "share";
  const bar = document.createElement("i");
  bar.style.width = `${Math.round(frame.backwashShare * 100)}%`;
  share.append(bar);
  const part = document.createElement("p");
  part.textContent = `${on ? "On the backwash" : "Off the backwash"}, ${Math.round(frame.backwashShare * 100)} %`;
  const from = document.createElement("p");
  from.className = "soft";
  from.textContent = `opened ${Math.abs(turn).toFixed(2)} s ${turn >= 0 ? "after" : "before"} the turn`;
  item.append(share, part, from);
  counts();
}

function addMissed(missed) {
  state.missed++;
  listItem("missed", [["exposure", `Missed at ${clockWords(missed.at, true)}`], ["", missed.why]]);
  counts();
}

function exposureWords(seconds) {
  return seconds >= 100 ? `${seconds.toFixed(1)} s` : seconds >= 0.1 ? `${seconds.toFixed(3)} s` : `${(seconds * 1000).toFixed(2)} ms`;
}

function counts() {
  byId("count").textContent = state.frames + (state.missed ? `, ${state.missed} missed` : "");
}

// ---- buttons of the box ----

const keyNames = { ArrowUp: "up", ArrowDown: "down", ArrowLeft: "back", Escape: "back", ArrowRight: "select", Enter: "select", KeyM: "mark", Space: "fire" };
const pressed = new Map(); // source of a press (pointer or key) -> button

function press(source, name) {
  if (pressed.has(source)) return;
  pressed.set(source, name);
  show(name);
  send({ do: "down", button: name });
}

function release(source) {
  const name = pressed.get(source);
  if (!name) return;
  pressed.delete(source);
  show(name);
  if (![...pressed.values()].includes(name)) send({ do: "up", button: name });
}

function show(name) {
  document.querySelector(`[data-button="${name}"]`).classList.toggle("down", [...pressed.values()].includes(name));
}

for (const key of document.querySelectorAll(".key")) {
  key.addEventListener("pointerdown", event => {
    if (event.button !== 0) return;
    key.setPointerCapture(event.pointerId);
    press("pointer" + event.pointerId, key.dataset.button);
  });
  for (const end of ["pointerup", "pointercancel", "lostpointercapture"]) {
    key.addEventListener(end, event => release("pointer" + event.pointerId));
  }
  key.addEventListener("contextmenu", event => event.preventDefault());
}

document.addEventListener("keydown", event => {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  const focused = document.activeElement;
  if (place() !== "box") return;
  // In a text field or a list every key belongs to that field. On a link or a button of the page, the keys that press it belong to it.
  if (focused?.closest?.("input, select, textarea, [tabindex]")) return;
  if (focused?.closest?.("a, .speeds, .plain") && (event.code === "Space" || event.code === "Enter")) return;
  const onKey = focused?.dataset?.button && (event.code === "Space" || event.code === "Enter") ? focused.dataset.button : null;
  const name = onKey || keyNames[event.code];
  if (!name) return;
  event.preventDefault();
  if (!event.repeat) press("key" + event.code, name);
});
document.addEventListener("keyup", event => release("key" + event.code));
const releaseAll = () => [...pressed.keys()].forEach(release);
window.addEventListener("blur", releaseAll);
document.addEventListener("visibilitychange", () => { if (document.hidden) releaseAll(); });

// ---- settings ----

for (const button of document.querySelectorAll("[data-speed]")) {
  button.addEventListener("click", event => {
    send({ do: "speed", speed: Number(button.dataset.speed) });
    if (event.detail > 0) button.blur(); // after a click with the pointer, the Space bar must belong to Fire again
  });
}

byId("turn").addEventListener("click", event => {
  send({ do: "turn" });
  if (event.detail > 0) event.currentTarget.blur();
});

const dial = byId("camera-form").elements.dial;
const dialFigures = ["1/60", "1/30", "1/15", "1/8", "1/4", "1/2", "1", "2", "4", "8", "15", "30"];
dialFigures.forEach((figure, i) => dial.add(new Option(figure + " s", String(2 ** (i - 6)))));

byId("camera-form").addEventListener("change", event => {
  const form = byId("camera-form");
  if (!form.reportValidity()) return;
  const f = form.elements;
  const bulb = f.dial.value === "bulb";
  send({
    do: "camera", dial: bulb ? "bulb" : "timed", dialSeconds: bulb ? 1 : Number(f.dial.value), lagMs: Number(f.lagMs.value),
    darkFrame: f.darkFrame.checked, mirrorLockUp: f.mirrorLockUp.checked, continuous: f.continuous.checked,
  });
  send({ do: "battery", millivolts: Number(f.millivolts.value) });
  if (event.target.type !== "number") event.target.blur();
});

/** Period and spread belong to the steady sea; the others have their own. */
function steadyOnly() {
  const f = byId("sea-form").elements;
  f.period.disabled = f.spread.disabled = f.kind.value !== "steady";
}

byId("sea-form").elements.kind.addEventListener("change", steadyOnly);

function restart() {
  const f = byId("sea-form").elements;
  state.refused = "";
  send({ do: "restart", kind: f.kind.value, seed: Number(f.seed.value), period: Number(f.period.value), spread: Number(f.spread.value) / 100 });
}

byId("sea-form").addEventListener("submit", event => {
  event.preventDefault();
  restart();
  document.activeElement.blur();
});

// ---- drawing ----

/** The line's present state. */
function isOn(line) {
  for (let i = state.lines.length - 1; i >= 0; i--) if (state.lines[i][1] === line) return state.lines[i][2] === 1;
  return false;
}

function word(id, text, on) {
  const cell = byId(id);
  if (cell.textContent !== text) cell.textContent = text;
  cell.classList.toggle("on", on);
}

/** As often as news come; a faster drawing shows nothing more and warms the computer. */
const paintMs = 30;
let paintedAt = 0;

function paint(at) {
  requestAnimationFrame(paint);
  if (place() !== "box" || at - paintedAt < paintMs) return;
  paintedAt = at;
  const pace = state.pace;
  const ahead = Math.min(0.1, (performance.now() - state.heardAt) / 1000) * pace;
  const now = state.now + ahead;
  const windowSeconds = 30 * Math.max(1, Math.min(10, state.pace / 5));
  byId("clock").textContent = clockWords(state.now, true);
  for (const button of document.querySelectorAll("[data-speed]")) {
    const on = state.paused ? button.dataset.speed === "0" : Number(button.dataset.speed) === state.speed;
    button.setAttribute("aria-pressed", String(on));
  }
  const wave = state.waves.findLast?.(w => w[0] <= now) ?? null;
  const backwash = wave !== null && now >= wave[1] && now < wave[2];
  const metres = state.edge.length ? state.edge[state.edge.length - 1][1] : 0;
  const half = isOn(Lines.half), shutter = isOn(Lines.shutter);
  word("half", half ? "closed" : "open", half);
  word("shutter", shutter ? "closed" : "open", shutter);
  word("camera", state.open !== null ? `exposing ${Math.max(0, now - state.open).toFixed(1)} s` : state.busy ? "busy" : "ready", state.open !== null);
  word("water", backwash ? "backwash" : metres > 0.05 ? "running up" : "drained", backwash);
  drawStrip(byId("strip"), state, now, windowSeconds);
  drawBeach(byId("beach"), metres, backwash, now);
}

window.addEventListener("hashchange", goTo);
window.addEventListener("resize", () => drawScreen(byId("screen"), state.screen, state.glow));
drawScreen(byId("screen"), null, 1);
document.addEventListener("DOMContentLoaded", () => {
  goTo();
  transport.open(take, trouble);
});
requestAnimationFrame(paint);
