// Pairing, and the devices that were let in: on the kitchen's own screen only.
import { make, when } from "./make.js";
import { ask, send } from "./shell.js";

export async function drawDevices() {
  const place = document.getElementById("devices");
  const me = await ask("/api/me").catch(() => null);
  if (!me?.here || !me.shared || !place) return;
  const [code, { devices }] = await Promise.all([ask("/api/pairing"), ask("/api/devices")]).catch(() => [null, {}]);
  if (!code) return;
  place.replaceChildren(...pairing(code), ...list(devices));
  setTimeout(drawDevices, Math.min(5, code.left_s + 1) * 1000);
}

function pairing(code) {
  return [
    make("h2", {}, "Pair another device"),
    make("p", {}, `Open ${code.address} there and type ${code.code}, or scan this:`),
    make("img", { id: "code-picture", src: code.picture, alt: `Square to scan: ${code.address} with the code` }),
  ];
}

function list(devices) {
  if (!devices.length) return [];
  return [make("h2", {}, "Paired devices"), make("ul", { id: "device-list" }, ...devices.map(row))];
}

function row({ id, name, paired, seen, here }) {
  const told = `paired ${when(paired * 1000)}, ${here ? "here now" : `last seen ${when(seen * 1000)}`}`;
  const away = () => send("/api/devices", { device: id }).then(drawDevices).catch(() => {});
  return make("li", { class: "listed" },
    make("span", {}, name, make("br"), make("span", { class: "soft" }, told)),
    make("button", { type: "button", onclick: away }, `Remove ${name}`));
}
