// A device is let in by a code, typed or scanned; the cookie that comes back no script can read.
import { at, tell } from "./make.js";
import { send } from "./shell.js";

export function scannedCode() {
  const found = /^#pair=([0-9A-Za-z]{4,12})$/.exec(location.hash);
  if (found) history.replaceState(null, "", location.pathname);
  return found?.[1] ?? null;
}

export async function pair(code) {
  const done = await tryCode(code);
  if (done) return;
  at("pairing").showModal();
  await new Promise((/** @type {(paired?: undefined) => void} */ settled) => {
    at("pairing-form").addEventListener("submit", async (event) => {
      event.preventDefault();
      if (await tryCode(at("code").value)) settled();
    });
  });
  at("pairing").close();
}

async function tryCode(code) {
  if (!code) return false;
  try {
    await send("/api/pair", { code });
    return true;
  } catch (error) {
    tell("pairing-trouble", error.message);
    return false;
  }
}
