// Words on their way: kept on the device until the kitchen's machine says that it has them.
const PLACE = "panside-outbox";

function load() {
  try {
    return JSON.parse(localStorage.getItem(PLACE) ?? "[]");
  } catch {
    return [];
  }
}

export class Outbox {
  constructor(batch, changed) {
    this.batch = batch;
    this.changed = changed;
  }

  mine() {
    return load().filter((item) => item.batch === this.batch);
  }

  add(text, stage) {
    const item = { id: freshId(), batch: this.batch, text, stage, at: Date.now() };
    this.#write([...load(), item]);
    return item;
  }

  drop(id) {
    this.#write(load().filter((item) => item.id !== id));
  }

  fail(id, why) {
    this.#write(load().map((item) => (item.id === id ? { ...item, why } : item)));
  }

  #write(items) {
    localStorage.setItem(PLACE, JSON.stringify(items.slice(-200)));
    this.changed();
  }
}

// An id for a message or a wish, so that it counts once.
export const freshId = () => crypto.randomUUID?.() ?? fallbackId();

// randomUUID needs a secure connection; random values do not.
function fallbackId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}
