// Sets words as large as their place allows, by measuring and never by counting signs.
const STEPS = 12;

// The largest size for which fits(size) holds, between two sizes. [px]
/** @param {number} least @param {number} most @param {(size: number) => boolean} fits */
export function largest(least, most, fits) {
  let [low, high] = [least, most];
  for (let step = 0; step < STEPS && high - low > 0.5; step += 1) {
    const middle = (low + high) / 2;
    if (fits(middle)) low = middle;
    else high = middle;
  }
  return Math.floor(low * 2) / 2;
}

// What number and words should measure at least, by the window's shorter side: a phone in the hand,
// a tablet beside the stove, a screen on the wall that is read from 3 m. [px]
/** @param {number} width @param {number} height */
export function wanted(width, height) {
  const shorter = Math.min(width, height);
  if (shorter < 600) return { number: 114, words: 44 };
  if (shorter < 900) return { number: 186, words: 60 };
  return { number: 0.197 * shorter, words: 0.074 * shorter };
}

// One element in its place; it must be no wider and no higher than that, nor cut a word. Its size. [px]
export function fit(element, place, { least, most, share = 1 }) {
  if (!element.textContent.trim() || !place.clientWidth) return most;
  const fits = (size) => {
    element.style.fontSize = `${size}px`;
    return (
      element.scrollWidth <= place.clientWidth + 1 &&
      element.scrollHeight <= place.clientHeight * share + 1
    );
  };
  const size = largest(least, most, fits);
  element.style.fontSize = `${size}px`;
  return size;
}
