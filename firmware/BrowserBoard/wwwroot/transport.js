"use strict";
// Carries orders, news and questions between the page and a board that runs in a worker of the same browser. Behind a web server the page
// gets a file of the same name that carries them over a socket; nothing else of the page knows which of the two it is.

const transport = {
  worker: null,
  asked: new Map(),
  number: 0,

  /** Begins to hear news; lost is called when the board cannot be started. */
  open(hear, lost) {
    const worker = transport.worker = new Worker(new URL("worker.js", document.baseURI), { type: "module" });
    worker.onmessage = ({ data }) => {
      if (data.news) return hear(JSON.parse(data.news));
      transport.asked.get(data.number)(data.answer);
      transport.asked.delete(data.number);
    };
    worker.onerror = event => lost(`The board does not start in this browser: ${event.message || "a file of the folder is missing"}. Reload the page.`);
  },

  /** Sends an order to the board, which answers with news. */
  send(order) {
    transport.worker.postMessage({ order: JSON.stringify(order) });
  },

  /** Asks for something beside the news: { ok, type, bytes, file }. When ok is false the bytes say in one line what is wrong. */
  ask(question, body = null) {
    const number = ++transport.number;
    transport.worker.postMessage({ number, question, body: body ?? new Uint8Array() });
    return new Promise(done => transport.asked.set(number, done));
  },
};
