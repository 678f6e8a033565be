// The live line to the kitchen's machine: it comes back by itself and sends what had to wait.
const PATIENCE = 20_000; // the machine gives a sign of life every eight seconds [ms]
const AT_ONCE = 1_500; // words sent within so long were not held up [ms]

export class Line {
  constructor(batch, outbox, told) {
    this.batch = batch;
    this.outbox = outbox;
    this.told = told; // told.state(up), told.message(message)
    this.wait = 500;
    this.heardAt = Date.now();
    /** @type {WebSocket | null} */
    this.socket = null;
    addEventListener("online", () => this.#again());
    document.addEventListener("visibilitychange", () => {
      if (!document.hidden) this.#again();
    });
    setInterval(() => this.#mind(), 2_000);
    this.#open();
  }

  get up() {
    return this.socket?.readyState === WebSocket.OPEN;
  }

  say(text, stage) {
    const item = this.outbox.add(text, stage);
    if (this.up) this.#send(item);
    return item;
  }

  send(record) {
    if (this.up) this.socket?.send(JSON.stringify(record));
  }

  sound(buffer) {
    if (this.up && this.socket && this.socket.bufferedAmount < 200_000) this.socket.send(buffer);
  }

  resend(id) {
    const item = this.outbox.mine().find((each) => each.id === id);
    if (item && this.up) this.#send(item);
  }

  #open() {
    clearTimeout(this.timer);
    const scheme = location.protocol === "https:" ? "wss" : "ws";
    const batch = encodeURIComponent(this.batch);
    const socket = new WebSocket(`${scheme}://${location.host}/live?batch=${batch}`);
    this.socket = socket;
    socket.addEventListener("message", (event) => this.#take(JSON.parse(event.data)));
    socket.addEventListener("close", (event) => {
      if (socket === this.socket) this.#closed(event.code);
    });
  }

  #take(message) {
    this.heardAt = Date.now();
    if (message.kind === "welcome") {
      this.wait = 500;
      this.told.state(true);
      for (const item of this.outbox.mine()) this.#send(item);
    }
    if (message.kind === "ack") this.outbox.drop(message.id);
    if (message.kind === "trouble" && message.id) this.outbox.fail(message.id, message.text);
    this.told.message(message);
  }

  #send(item) {
    const age = Date.now() - item.at;
    const { id, batch, text, stage } = item;
    this.send({ kind: "say", id, batch, text, stage, age_ms: age > AT_ONCE ? age : 0 });
  }

  #closed(code) {
    this.told.state(false, code);
    if (code === 4404) return;
    this.timer = setTimeout(() => this.#open(), this.wait);
    this.wait = Math.min(this.wait * 1.7, 3_000);
  }

  #again() {
    if (this.up && Date.now() - this.heardAt < PATIENCE) return;
    this.wait = 500;
    this.#drop();
  }

  #mind() {
    if (this.up && Date.now() - this.heardAt > PATIENCE) this.#drop();
  }

  // A socket whose network is gone may hang for minutes: leave it, and open another.
  #drop() {
    const old = this.socket;
    this.socket = null;
    old?.close();
    this.told.state(false);
    this.#open();
  }
}
