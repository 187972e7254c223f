// Runs the board inside the browser, off the thread that draws the page.

import { dotnet } from "./_framework/dotnet.js";

// Messages that come before the board is ready wait for it.
const waiting = [];
self.onmessage = ({ data }) => waiting.push(data);

const { getAssemblyExports, getConfig } = await dotnet.create();
const board = (await getAssemblyExports(getConfig().mainAssemblyName)).Intervalometer.BrowserBoard.Program;

const passMs = 8; // the board runs on this often, and at once when it has fallen behind
const newsMs = 33; // the page gets a message this often
let toldAt = 0;

function take({ order, number, question, body }) {
  if (order) {
    const wrong = board.Order(order);
    if (wrong) console.error("Page: " + wrong);
    return;
  }
  const head = JSON.parse(board.Ask(question, body));
  self.postMessage({ number, answer: { ...head, bytes: board.Body() } });
}

// A message to the worker itself arrives sooner than any timer, and after the orders that are already waiting.
const again = new MessageChannel();
again.port1.onmessage = pass;

function pass() {
  const began = performance.now();
  board.Advance();
  if (performance.now() - toldAt >= newsMs) {
    toldAt = performance.now();
    self.postMessage({ news: board.News() });
  }
  if (performance.now() - began > passMs) again.port2.postMessage(null);
  else setTimeout(pass, passMs);
}

waiting.forEach(take);
self.onmessage = ({ data }) => take(data);
pass();
