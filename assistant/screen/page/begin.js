// A new batch. The wish keeps its id until it is answered, so that a second try begins no second one.
import { freshId } from "./outbox.js";
import { send } from "./shell.js";

/** @param {{recipe?: string, again?: string}} wish */
export async function beginBatch(wish) {
  const kept = `panside-begin ${JSON.stringify(wish)}`;
  const id = sessionStorage.getItem(kept) ?? freshId();
  sessionStorage.setItem(kept, id);
  const { batch } = await send("/api/batches", { ...wish, id });
  sessionStorage.removeItem(kept);
  location.assign(`/?batch=${encodeURIComponent(batch)}`);
}
