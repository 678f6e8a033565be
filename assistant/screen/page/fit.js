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

// One element in its place; it must be no wider and no higher than that, nor cut a word.
export function fit(element, place, { least, most, share = 1 }) {
  if (!element.textContent.trim() || !place.clientWidth) return;
  const fits = (size) => {
    element.style.fontSize = `${size}px`;
    return (
      element.scrollWidth <= place.clientWidth + 1 &&
      element.scrollHeight <= place.clientHeight * share + 1
    );
  };
  element.style.fontSize = `${largest(least, most, fits)}px`;
}
