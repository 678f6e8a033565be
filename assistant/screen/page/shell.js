// What every page does: light, the service worker, and asking the kitchen's machine.
import { mindLight } from "./light.js";
import { at, kept, make, tell, when } from "./make.js";

export function settle() {
  mindLight();
  if (!("serviceWorker" in navigator)) return;
  const trusted = /** @type {any} */ (window).trustedTypes?.createPolicy("panside-worker", {
    createScriptURL: (address) => {
      if (address !== "/worker.js") throw new TypeError(address);
      return address;
    },
  });
  const address = trusted ? trusted.createScriptURL("/worker.js") : "/worker.js";
  // Without it the page works, but not after a reload without a network.
  navigator.serviceWorker.register(address).catch(() => {});
}

export class Unpaired extends Error {}
export class Away extends Error {}

async function answer(asked) {
  const reply = await asked.catch(() => {
    throw new Away("There is no connection to the kitchen’s machine.");
  });
  if (reply.status === 401) throw new Unpaired("Pair this device first.");
  const told = await reply.json().catch(() => {
    throw new Away("The kitchen’s machine is too busy to answer. Try again in a moment.");
  });
  if (!reply.ok) throw new Error(told.error);
  return told;
}

export async function ask(address) {
  return answer(fetch(address, { signal: AbortSignal.timeout(8000) }));
}

export async function send(address, record) {
  const body = JSON.stringify(record);
  const headers = { "content-type": "application/json" };
  return answer(fetch(address, { method: "POST", body, headers }));
}

// A page that only reads: the last answer is kept, and shown with its age when there is no network.
export async function read(address, drawIt) {
  const place = `panside-kept ${address}`;
  try {
    const told = await ask(address);
    localStorage.setItem(place, JSON.stringify(told));
    tell("line", "");
    drawIt(told);
  } catch (error) {
    const old = kept(place);
    if (error instanceof Unpaired) {
      tell("line", "This device is not paired: open the kitchen page and type the code.");
    } else if (old && error instanceof Away) {
      tell("line", `No connection. This is as it stood ${when(old.now)}.`);
      drawIt(old);
    } else {
      tell("line", error.message);
      if (!(error instanceof Away)) content().replaceChildren(wayBack());
    }
  }
}

const wayBack = () => make("p", { class: "row" },
  make("a", { class: "button first", href: "/batches" }, "All batches"),
  make("a", { class: "button", href: "/" }, "To the kitchen"));

export const content = () => at("content");
