// Time by the kitchen's clock, which the machine tells with every view.
let ahead = 0; // how far the kitchen's clock is ahead of this device's [ms]

/** @param {string} serverNow */
export function setClock(serverNow) {
  ahead = Date.parse(serverNow) - Date.now();
}

// The same for a view that was kept: its time was told long ago.
export const aheadBy = () => ahead;
/** @param {number} by in ms */
export function setAhead(by) {
  ahead = by;
}

export const now = () => Date.now() + ahead;

// 65000 -> 1:05; time that is over counts on, with a plus before it.
/** @param {number} left in ms */
export function clock(left) {
  const seconds = Math.abs(left > 0 ? Math.ceil(left / 1000) : Math.floor(left / 1000));
  const [hours, minutes, rest] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  const two = (number) => String(number).padStart(2, "0");
  const told = hours ? `${hours}:${two(minutes)}:${two(rest)}` : `${minutes}:${two(rest)}`;
  return left > 0 ? told : `+${told}`;
}

// 95 s -> "1 min ago"; "" for what is fresh.
/** @param {number} passed in ms */
export function ago(passed) {
  if (passed < 30_000) return "";
  if (passed < 90_000) return `${Math.round(passed / 10_000) * 10} s ago`;
  if (passed < 5_400_000) return `${Math.round(passed / 60_000)} min ago`;
  return `${Math.round(passed / 3_600_000)} h ago`;
}
