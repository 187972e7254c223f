"use strict";
// The logbook: a dump of a box's memory or a report, its frames, what the photographer says of them, and the picture files that belong to them.

const book = { file: null, verdicts: {}, pictures: [] };

function asked() {
  const ahead = byId("picture-ahead").value;
  return { file: book.file, verdicts: book.verdicts, pictures: book.pictures, ahead: ahead === "" ? null : Number(ahead) };
}

async function readBook(focus) {
  const told = byId("logbook-told");
  const answer = await askDesk("logbook", asked(), told);
  if (!answer.ok) return false;
  const shown = read(answer);
  told.textContent = [shown.told, shown.matched].filter(Boolean).join(" ");
  byId("logbook-open").hidden = shown.frames.length === 0;
  byId("logbook-source").textContent = shown.source + ".";
  byId("logbook-answer").textContent = shown.answerFor;
  byId("logbook-picture").src = picture(shown.picture);
  byId("logbook-picture").alt = "Exposure of each frame against the answer, and where in the wave it began; the table has the same figures.";
  byId("logbook-rows").replaceChildren(...shown.frames.map(row));
  if (focus) document.querySelector(`[data-frame="${focus}"]`)?.focus();
  return true;
}

function row(frame) {
  const line = document.createElement("tr");
  const cells = [frame.start, frame.exposure, frame.answer, frame.offStops ?? "", frame.wavePercent === null ? "" : frame.wavePercent + " %", frame.notes];
  const head = document.createElement("th");
  head.scope = "row";
  head.textContent = frame.number;
  line.append(head, ...cells.map(text => {
    const cell = document.createElement("td");
    cell.textContent = text;
    return cell;
  }));
  const verdict = document.createElement("td"), choice = document.createElement("select"), file = document.createElement("td");
  for (const [value, text] of [["", "–"], ["hit", "hit"], ["miss", "miss"]]) choice.add(new Option(text, value, false, value === frame.verdict));
  choice.dataset.frame = frame.number;
  choice.setAttribute("aria-label", `Frame ${frame.number}, hit or miss`);
  choice.addEventListener("change", () => {
    if (choice.value) book.verdicts[frame.number] = choice.value;
    else delete book.verdicts[frame.number];
    readBook(frame.number);
  });
  verdict.append(choice);
  file.textContent = frame.file;
  line.append(verdict, file);
  return line;
}

async function openBook(bytes) {
  const before = { ...book };
  Object.assign(book, { file: inText(bytes), verdicts: {}, pictures: [] });
  if (!await readBook()) Object.assign(book, before);
}

onFile("logbook-file", async ([file]) => openBook(await bytesOf(file)));
byId("logbook-here").addEventListener("click", async () => openBook((await transport.ask("memory.bin")).bytes));

const head = 256 * 1024; // a camera writes the time near the beginning of the file

onFile("picture-files", async files => {
  const wrong = [];
  const found = [];
  for (const file of files) {
    const name = new TextEncoder().encode(file.name + "\n"), begin = await bytesOf(file.slice(0, head));
    const body = new Uint8Array(name.length + begin.length);
    body.set(name);
    body.set(begin, name.length);
    const answer = await transport.ask("picture", body);
    if (answer.ok) found.push(read(answer));
    else wrong.push(words(answer.bytes));
  }
  book.pictures = found;
  if (book.file) await readBook();
  if (!book.file) wrong.push("Open a logbook first.");
  if (wrong.length) byId("logbook-told").textContent += " " + wrong.join(" ");
});

byId("picture-ahead").addEventListener("change", () => { if (book.file) readBook(); });

for (const button of document.querySelectorAll("[data-book]")) {
  button.addEventListener("click", async () => {
    const answer = await askDesk(button.dataset.book, asked(), byId("logbook-told"));
    if (answer.ok) keepFile(answer);
  });
}
