"use strict";
// The place: its text, what is wrong with it, tables for it, and the files that bring it to a box.

const site = byId("site-text");

/** The numbers beside the lines, with every wrong line highlighted. */
function number(mistakes) {
  const lines = site.value.split("\n").length;
  byId("site-lines").replaceChildren(...Array.from({ length: lines }, (_, i) => {
    const item = document.createElement("li");
    item.textContent = i + 1;
    item.classList.toggle("wrong", mistakes.some(mistake => mistake.line === i + 1));
    return item;
  }));
  byId("site-lines").style.setProperty("--down", `${-site.scrollTop}px`);
}

function showPlace(shown) {
  const wrong = shown.mistakes.length > 0;
  if (site.value !== shown.site) site.value = shown.site;
  number(shown.mistakes);
  site.setAttribute("aria-invalid", String(wrong));
  byId("site-fault").classList.toggle("wrong", wrong);
  byId("site-fault").textContent = shown.mistakes.map(mistake => mistake.words).join("\n") || "The box can hold this place.";
  const lines = shown.lines.length ? shown.lines : ["Nothing until the text has no mistake."];
  byId("site-lines-told").replaceChildren(...lines.map(words => {
    const line = document.createElement("div");
    line.textContent = words;
    return line;
  }));
  cautions(shown.caution);
  const first = shown.mistakes[0]?.line;
  if (!first) return;
  // Puts the caret where there is something to correct.
  const before = site.value.split("\n").slice(0, first - 1).join("\n");
  site.setSelectionRange(before.length ? before.length + 1 : 0, before.length ? before.length + 1 : 0);
}

async function check() {
  const answer = await askDesk("place", { site: site.value }, byId("site-fault"));
  if (answer.ok) showPlace(read(answer));
}

async function example() {
  const answer = await transport.ask("place.example");
  if (answer.ok) showPlace(read(answer));
}

byId("site-check").addEventListener("click", check);
byId("site-example").addEventListener("click", example);
byId("site-save").addEventListener("click", () => keepFile({ bytes: new TextEncoder().encode(site.value), type: "text/plain", file: "place.txt" }));
site.addEventListener("input", () => number([]));
site.addEventListener("scroll", () => byId("site-lines").style.setProperty("--down", `${-site.scrollTop}px`));

/** Hands over the one file that was chosen, and is ready for the next. */
function onFile(id, take) {
  byId(id).addEventListener("change", async event => {
    const files = [...event.target.files];
    if (files.length) await take(files);
    event.target.value = "";
  });
}

const bytesOf = async file => new Uint8Array(await file.arrayBuffer());

onFile("site-file", async ([file]) => {
  site.value = await file.text();
  await check();
});

byId("table-use").addEventListener("click", async () => {
  const told = byId("table-told");
  const answer = await askDesk("place.table", { site: site.value, table: byId("table-text").value }, told);
  if (!answer.ok) return;
  showPlace(read(answer));
  told.textContent = "The table is now the tide of the place. Look at the text above.";
});

byId("table-compare").addEventListener("click", async () => {
  const told = byId("table-told");
  const answer = await askDesk("place.week", { site: site.value, table: byId("table-text").value }, told);
  if (!answer.ok) return;
  const week = read(answer);
  told.classList.toggle("wrong", !week.agrees);
  told.textContent = (week.agrees ? "The place agrees with the table. " : "The place does not agree with the table. ") + week.lines.join(". ") + ".";
});

async function bring(question, file, done) {
  const told = byId("bring-told");
  const answer = await askDesk(question, { site: site.value, file }, told);
  if (!answer.ok) return;
  keepFile(answer);
  told.textContent = done;
}

onFile("flash-file", async ([file]) => bring("place.flash", inText(await bytesOf(file)), "deploy.bin holds the place. Load it as you load the firmware; the box takes the place once, and what buttons change afterwards stays."));
onFile("memory-file", async ([file]) => bring("place.memory", inText(await bytesOf(file)), "memory.bin holds the place, and the settings and the logbook of the dump."));
byId("memory-make").addEventListener("click", () => bring("place.memory", null, "memory.bin holds the place. A programmer for I2C EEPROMs writes it to the chip."));

/** Settled when the text of a place stands there to begin with. */
const placeReady = new Promise(done => document.addEventListener("DOMContentLoaded", async () => { await example(); done(); }));
