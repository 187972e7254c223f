"use strict";
// Carries orders, news and questions between the page and a board behind a web server. The static folder has a file of the same name
// that carries them to a board inside the browser; nothing else of the page knows which of the two it is.

const transport = {
  socket: null,

  /** Begins to hear news; lost is called when the board stops answering, and news goes on by itself when it answers again. */
  open(hear, lost) {
    const socket = transport.socket = new WebSocket(new URL("live", document.baseURI).href.replace(/^http/, "ws"));
    socket.onmessage = message => hear(JSON.parse(message.data));
    socket.onclose = () => {
      lost("The board does not answer. Start the program again, and this page connects by itself.");
      setTimeout(() => transport.open(hear, lost), 1000);
    };
  },

  /** Sends an order to the board, which answers with news. */
  send(order) {
    if (transport.socket?.readyState === WebSocket.OPEN) transport.socket.send(JSON.stringify(order));
  },

  /** Asks for something beside the news: { ok, type, bytes, file }. When ok is false the bytes say in one line what is wrong. */
  async ask(question, body = null) {
    try {
      const answer = await fetch(question, { method: "POST", body: body ?? new Uint8Array() });
      const file = /filename="([^"]+)"/.exec(answer.headers.get("Content-Disposition") ?? "")?.[1] ?? null;
      return { ok: answer.ok, type: answer.headers.get("Content-Type") ?? "", bytes: new Uint8Array(await answer.arrayBuffer()), file };
    } catch {
      return { ok: false, type: "text/plain", bytes: new TextEncoder().encode("The board does not answer. Start the program again."), file: null };
    }
  },
};
