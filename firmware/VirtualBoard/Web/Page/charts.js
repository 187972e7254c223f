"use strict";
// Draws the display, the strip of lines over time, and the beach. It knows nothing about the connection.

const Lines = { half: 0, shutter: 1, sensor: 9, busy: 10, mark: 6, fire: 7 };

const Ink = {
  night: "#0d0b09", grid: "#2c241b", text: "#f1e4d2", soft: "#b9a78f", amber: "#ffb454", sea: "#5fa8b8", alarm: "#ff7a5c",
  band: "rgba(255,180,84,0.16)", sand: "#2b2219", wet: "#1d1813", water: "#10262c", foam: "#9fd3dd",
};

/** Sizes a canvas to its box in true pixels; returns its context in CSS pixels. */
function fit(canvas) {
  const ratio = window.devicePixelRatio || 1;
  const width = canvas.clientWidth, height = canvas.clientHeight;
  if (canvas.width !== Math.round(width * ratio) || canvas.height !== Math.round(height * ratio)) {
    canvas.width = Math.round(width * ratio);
    canvas.height = Math.round(height * ratio);
  }
  const draw = canvas.getContext("2d");
  draw.setTransform(ratio, 0, 0, ratio, 0, 0);
  return { draw, width, height };
}

/** The display, each of its pixels a whole number of screen pixels. */
function drawScreen(canvas, rows, glow) {
  const ratio = window.devicePixelRatio || 1;
  // Beside the buttons the display may take half of the width; above them, all of it.
  const beside = getComputedStyle(canvas.closest(".box")).display === "grid";
  const room = beside ? canvas.closest(".box").clientWidth * 0.5 : canvas.parentElement.clientWidth - 24;
  // The buttons must fit below it, or beside it on a low window.
  const tall = window.innerHeight * 0.42;
  const scale = Math.max(1, Math.min(Math.floor(room * ratio / 128), Math.floor(tall * ratio / 64), Math.floor(5 * ratio)));
  canvas.width = 128 * scale;
  canvas.height = 64 * scale;
  canvas.style.width = canvas.width / ratio + "px";
  canvas.style.height = canvas.height / ratio + "px";
  canvas.dataset.scale = scale;
  const draw = canvas.getContext("2d");
  draw.fillStyle = "#000";
  draw.fillRect(0, 0, canvas.width, canvas.height);
  if (!rows) return;
  const level = 0.55 + 0.45 * glow;
  draw.fillStyle = `rgb(${Math.round(255 * level)},${Math.round(226 * level)},${Math.round(180 * level)})`;
  for (let y = 0; y < 64; y++) {
    for (let x = 0; x < 128; x++) {
      if (rows[(y * 128 + x) >> 3] & (0x80 >> (x & 7))) draw.fillRect(x * scale, y * scale, scale, scale);
    }
  }
}

/** Spans during which a line was on, within a window. */
function spans(changes, line, from, to) {
  const found = [];
  let since = null;
  for (const [at, which, on] of changes) {
    if (which !== line) continue;
    if (on && since === null) since = at;
    else if (!on && since !== null) {
      if (at >= from) found.push([Math.max(since, from), Math.min(at, to)]);
      since = null;
    }
  }
  if (since !== null && since <= to) found.push([Math.max(since, from), to]);
  return found;
}

function tickStep(windowSeconds) {
  for (const step of [1, 2, 5, 10, 30, 60, 120, 300, 600]) if (windowSeconds / step <= 9) return step;
  return 1800;
}

function clockWords(seconds, tenths) {
  const minus = seconds < 0 ? "-" : "";
  const grain = tenths ? 10 : 1; // rounded before it is split, so that the seconds never show 60
  const s = Math.round(Math.abs(seconds) * grain) / grain;
  const minutes = Math.floor(s / 60);
  const rest = (s - minutes * 60).toFixed(tenths ? 1 : 0);
  const hours = Math.floor(minutes / 60);
  const pad = rest.padStart(tenths ? 4 : 2, "0");
  return hours ? `${minus}${hours}:${String(minutes % 60).padStart(2, "0")}:${pad}` : `${minus}${minutes}:${pad}`;
}

/** Water's edge and contacts over time, now at four fifths of the width. */
function drawStrip(canvas, state, now, windowSeconds) {
  const { draw, width, height } = fit(canvas);
  const narrow = width < 520;
  const left = narrow ? 82 : 112, bottom = height - 26;
  const from = now - windowSeconds * 0.8, to = now + windowSeconds * 0.2;
  const x = t => left + (t - from) / (to - from) * (width - left);
  draw.clearRect(0, 0, width, height);
  draw.font = `500 ${narrow ? 14 : 16}px "Avenir Next","Segoe UI","Noto Sans","DejaVu Sans",sans-serif`;
  draw.textBaseline = "middle";

  const plot = { top: 8, bottom: 150 };
  draw.save();
  draw.beginPath();
  draw.rect(left, 0, width - left, height);
  draw.clip();

  draw.fillStyle = Ink.band;
  for (const [, turn, end] of state.waves) if (end > from && turn < to) draw.fillRect(x(turn), 0, x(end) - x(turn), bottom);

  draw.strokeStyle = Ink.grid;
  draw.lineWidth = 1;
  draw.fillStyle = Ink.soft;
  draw.textAlign = "center";
  const step = tickStep(windowSeconds);
  let free = left; // where the next label may begin
  for (let t = Math.ceil(from / step) * step; t <= to; t += step) {
    if (t < 0) continue;
    draw.beginPath(); draw.moveTo(x(t), 0); draw.lineTo(x(t), bottom); draw.stroke();
    const half = draw.measureText(clockWords(t, false)).width / 2;
    if (x(t) - half < free || x(t) + half > width) continue;
    draw.fillText(clockWords(t, false), x(t), bottom + 14);
    free = x(t) + half + 12;
  }

  let most = 5;
  for (const [at, m] of state.edge) if (at >= from) most = Math.max(most, m);
  const y = m => plot.bottom - m / (most * 1.08) * (plot.bottom - plot.top);
  draw.beginPath();
  let begun = false;
  let lastX = 0;
  for (const [at, m] of state.edge) {
    if (at < from - step || at > now) continue;
    if (!begun) { draw.moveTo(x(at), y(0)); begun = true; }
    draw.lineTo(lastX = x(at), y(m));
  }
  if (begun) {
    draw.lineTo(lastX, y(0));
    draw.fillStyle = "rgba(95,168,184,0.30)";
    draw.fill();
    draw.strokeStyle = Ink.sea;
    draw.lineWidth = windowSeconds > 120 ? 1 : 2;
    draw.stroke();
  }

  const rows = stripRows(narrow);
  const rowHeight = (bottom - plot.bottom - 12) / rows.length;
  rows.forEach((row, i) => {
    const top = plot.bottom + 12 + i * rowHeight;
    draw.strokeStyle = Ink.grid;
    draw.beginPath(); draw.moveTo(left, top + rowHeight - 5); draw.lineTo(width, top + rowHeight - 5); draw.stroke();
    draw.fillStyle = row.ink;
    for (const [a, b] of spans(state.lines, row.line, from, now)) draw.fillRect(x(a), top + 3, Math.max(2, x(b) - x(a)), rowHeight - 8);
  });
  draw.fillStyle = Ink.sea;
  for (const [at, line, on] of state.lines) {
    if (on && line === Lines.mark && at >= from) { draw.beginPath(); draw.moveTo(x(at), plot.bottom); draw.lineTo(x(at) - 6, plot.bottom + 11); draw.lineTo(x(at) + 6, plot.bottom + 11); draw.fill(); }
  }

  if (state.plan !== null && state.plan <= to) {
    draw.strokeStyle = Ink.amber;
    draw.setLineDash([4, 5]);
    draw.lineWidth = 2;
    draw.beginPath(); draw.moveTo(x(state.plan), plot.bottom + 12); draw.lineTo(x(state.plan), bottom); draw.stroke();
    draw.setLineDash([]);
    draw.fillStyle = Ink.amber;
    draw.fillText("next", x(state.plan), plot.bottom - 6);
  }
  draw.strokeStyle = Ink.text;
  draw.lineWidth = 1.5;
  draw.beginPath(); draw.moveTo(x(now), 0); draw.lineTo(x(now), bottom); draw.stroke();
  draw.restore();

  draw.textAlign = "left";
  draw.fillStyle = Ink.text;
  draw.fillText(narrow ? "Water" : "Water's edge", 0, (plot.top + plot.bottom) / 2 - 10);
  draw.fillStyle = Ink.amber;
  draw.fillText("backwash", 0, (plot.top + plot.bottom) / 2 + 12);
  draw.fillStyle = Ink.sea;
  draw.fillText("▲ mark", 0, plot.bottom - 6);
  rows.forEach((row, i) => {
    draw.fillStyle = Ink.text;
    draw.fillText(row.name, 0, plot.bottom + 12 + (i + 0.5) * rowHeight - 1);
  });
}

function stripRows(narrow) {
  return [
    { name: narrow ? "Half-pr." : "Half-press", line: Lines.half, ink: "#a9815a" },
    { name: "Shutter", line: Lines.shutter, ink: Ink.amber },
    { name: narrow ? "Sensor" : "Sensor open", line: Lines.sensor, ink: "#fff2dc" },
    { name: narrow ? "Busy" : "Camera busy", line: Lines.busy, ink: "#6d5b47" },
  ];
}

/** The beach from above: sea at the top, the water's edge runs down the sand and back. */
function drawBeach(canvas, metres, backwash, now) {
  const { draw, width, height } = fit(canvas);
  const still = height * 0.22;
  const edge = still + Math.min(1.15, metres / 5) * height * 0.62;
  const shape = at => Math.sin(at * 0.011 + 0.7) * 5 + Math.sin(at * 0.031 + 2) * 3;
  draw.fillStyle = Ink.sand;
  draw.fillRect(0, 0, width, height);
  draw.fillStyle = Ink.wet;
  draw.fillRect(0, 0, width, still + height * 0.66);

  const outline = lift => {
    draw.beginPath();
    draw.moveTo(0, 0);
    for (let at = 0; at <= width + 8; at += 8) draw.lineTo(at, edge + shape(at) + lift);
    draw.lineTo(width, 0);
    draw.closePath();
  };
  outline(0);
  const deep = draw.createLinearGradient(0, 0, 0, edge + 8);
  deep.addColorStop(0, "#0c2027");
  deep.addColorStop(1, "#1c424b");
  draw.fillStyle = deep;
  draw.fill();

  draw.strokeStyle = Ink.foam;
  draw.lineWidth = backwash ? 1.5 : 4;
  draw.beginPath();
  for (let at = 0; at <= width + 8; at += 8) draw.lineTo(at, edge + shape(at));
  draw.stroke();
  if (backwash) {
    draw.strokeStyle = "rgba(159,211,221,0.55)";
    draw.lineWidth = 1.5;
    for (let at = 14; at < width; at += 26) {
      const start = edge + shape(at) - 6, long = 14 + ((at * 7) % 22);
      draw.beginPath(); draw.moveTo(at, start); draw.lineTo(at + 3, start - long); draw.stroke();
    }
  }
  for (let k = 0; k < 3; k++) {
    draw.strokeStyle = `rgba(159,211,221,${0.10 + k * 0.04})`;
    draw.lineWidth = 1;
    draw.beginPath();
    for (let at = 0; at <= width; at += 10) draw.lineTo(at, still * (0.25 + k * 0.3) + Math.sin(at * 0.02 + now * 0.7 + k) * 2);
    draw.stroke();
  }
  const foot = { x: width * 0.5, y: height * 0.93 };
  draw.strokeStyle = Ink.text;
  draw.lineWidth = 2;
  for (const dx of [-9, 0, 9]) { draw.beginPath(); draw.moveTo(foot.x, foot.y - 9); draw.lineTo(foot.x + dx, foot.y + (dx ? 5 : 7)); draw.stroke(); }
  draw.fillStyle = Ink.text;
  draw.fillRect(foot.x - 5, foot.y - 14, 10, 7);
}
