"use strict";
// The mornings to come. The desk behind the page works everything out; this file asks, shows the answers, and saves files.

/** Asks the desk; a complaint stands where the answer would. */
async function askDesk(question, asked, told) {
  const answer = await transport.ask(question, new TextEncoder().encode(JSON.stringify(asked)));
  if (told) told.classList.toggle("wrong", !answer.ok);
  if (told && !answer.ok) told.textContent = words(answer.bytes);
  return answer;
}

const read = answer => JSON.parse(words(answer.bytes));
const picture = svg => "data:image/svg+xml;charset=utf-8," + encodeURIComponent(svg);

/** Bytes as the desk reads them inside JSON. */
function inText(bytes) {
  let text = "";
  for (let at = 0; at < bytes.length; at += 0x8000) text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(text);
}

function fill(list, pairs) {
  list.replaceChildren(...pairs.flatMap(pair => {
    const row = document.createElement("div"), name = document.createElement("dt"), said = document.createElement("dd");
    name.textContent = pair.name;
    said.textContent = pair.words;
    row.append(name, said);
    return [row];
  }));
}

function cautions(text) {
  for (const caution of document.querySelectorAll(".caution")) caution.textContent = text;
}

// ---- what is asked ----

const weekdays = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];
const seasons = [["December to February", [12, 1, 2]], ["March to May", [3, 4, 5]], ["June to August", [6, 7, 8]], ["September to November", [9, 10, 11]]];

function ticks(holder, names) {
  holder.replaceChildren(...names.map((name, i) => {
    const label = document.createElement("label"), box = document.createElement("input");
    label.className = "tick";
    box.type = "checkbox";
    box.checked = true;
    box.value = i;
    label.append(box, " " + name);
    return label;
  }));
}

const ticked = holder => [...holder.querySelectorAll("input:checked")].map(box => Number(box.value));

function mornings() {
  const f = byId("mornings-form").elements;
  return {
    site: byId("site-text").value, from: f.from.value, days: Number(f.days.value),
    weekdays: ticked(byId("weekdays")).map(day => day + 1), months: ticked(byId("seasons")).flatMap(season => seasons[season][1]),
  };
}

// ---- what is shown ----

let listed = [], chosen = null, looks = 0;

async function look() {
  // An answer is not shown when a later question has been asked meanwhile.
  const mine = ++looks;
  byId("mornings-told").textContent = "Looking…";
  const answer = await askDesk("mornings", mornings(), null);
  if (mine !== looks) return;
  byId("mornings-told").classList.toggle("wrong", !answer.ok);
  byId("mornings-told").textContent = answer.ok ? "" : words(answer.bytes);
  if (!answer.ok) return;
  const shown = read(answer);
  listed = shown.mornings;
  byId("mornings-place").textContent = shown.place;
  byId("mornings-told").textContent = shown.told;
  byId("mornings-allowance").textContent = shown.allowance;
  cautions(shown.caution);
  drawMonths();
  choose(listed.reduce((best, m) => best === null || m.rank < best.rank ? m : best, null));
}

/** A stave for each morning, month by month. */
function drawMonths() {
  const longest = Math.max(1, ...listed.map(m => m.workMinutes));
  const months = new Map();
  for (const m of listed) months.set(m.month, [...months.get(m.month) ?? [], m]);
  byId("months").replaceChildren(...[...months].map(([name, those]) => {
    const month = document.createElement("div"), title = document.createElement("h3"), list = document.createElement("ul");
    title.textContent = name;
    list.className = "staves";
    for (const m of those) {
      const item = document.createElement("li"), button = document.createElement("button"), bar = document.createElement("i"), day = document.createElement("span");
      button.type = "button";
      button.dataset.sun = m.sun;
      bar.style.setProperty("--part", m.workMinutes / longest);
      day.textContent = m.day.split(" ").slice(0, 2).join(" ");
      button.setAttribute("aria-label", `${m.day}, ${m.kind}, ${m.workMinutes} minutes of work, rank ${m.rank}`);
      if (m.rank <= 3) day.textContent += " " + "★".repeat(4 - m.rank);
      button.append(bar, day);
      button.addEventListener("click", () => choose(m));
      item.append(button);
      list.append(item);
    }
    month.append(title, list);
    return month;
  }));
}

function choose(m) {
  chosen = m;
  byId("morning").hidden = m === null;
  for (const button of document.querySelectorAll(".staves button")) button.setAttribute("aria-pressed", String(m !== null && Number(button.dataset.sun) === m.sun));
  if (m === null) return;
  byId("morning-title").textContent = `${m.day}, ${m.kind}: rank ${m.rank}`;
  byId("morning-reason").textContent = m.reason;
  byId("morning-picture").src = picture(m.picture);
  byId("morning-picture").alt = "The tide, the light, the time for work and the time to leave, drawn. " + m.reason;
  fill(byId("morning-facts"), m.facts);
}

byId("mornings-form").addEventListener("submit", event => { event.preventDefault(); look(); });

for (const button of document.querySelectorAll("[data-keep]")) {
  button.addEventListener("click", async () => {
    const answer = await askDesk(button.dataset.keep, mornings(), byId("mornings-told"));
    if (answer.ok) keepFile(answer);
  });
}

byId("morning-keep").addEventListener("click", () =>
  keepFile({ bytes: new TextEncoder().encode(chosen.picture), type: "image/svg+xml", file: `${chosen.day.replaceAll(" ", "-")}-${chosen.kind}.svg` }));

byId("morning-play").addEventListener("click", async () => {
  const answer = await askDesk("mornings.play", { ...mornings(), sun: chosen.sun }, byId("mornings-told"));
  if (!answer.ok) return;
  location.hash = "#box";
});

ticks(byId("weekdays"), weekdays);
ticks(byId("seasons"), seasons.map(season => season[0]));
const today = new Date();
byId("mornings-form").elements.from.value = `${today.getFullYear()}-${String(today.getMonth() + 1).padStart(2, "0")}-${String(today.getDate()).padStart(2, "0")}`;

// The list belongs to the place as its text is now.
let lookedAt = null;
document.addEventListener("place", async event => {
  if (event.detail !== "mornings") return;
  await placeReady;
  const now = JSON.stringify(mornings());
  if (now === lookedAt) return;
  lookedAt = now;
  look();
});
