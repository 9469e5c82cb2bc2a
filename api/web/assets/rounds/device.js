// What a phone keeps of its handler, and whether it can work without a network.

const place = "lanewright.rounds";
let last = null; // where the browser keeps nothing it lasts until the page is left

/** chosen is {plant, route, shift, who, zone}, or null on a phone that is new to this. */
export function chosen() {
  try {
    return JSON.parse(localStorage.getItem(place)) ?? last;
  } catch {
    return last;
  }
}

/** choose keeps a choice. */
export function choose(choice) {
  last = choice;
  try {
    localStorage.setItem(place, JSON.stringify(choice));
  } catch { /* see last */ }
}

/** secured reports whether browsers let these pages be opened without a network: only
 *  where they came over HTTPS or from this very machine. It then sees to it; ready is called
 *  when that works, so that what was fetched before can be fetched once more and kept. */
export function secured(ready) {
  if (!isSecureContext || !navigator.serviceWorker) return false;
  navigator.serviceWorker.addEventListener("controllerchange", ready);
  navigator.serviceWorker.register("/rounds-worker.js", { scope: "/rounds" }).catch(console.debug);
  return true;
}

/** holding returns a function that reports whether a finger is down; lifted is called after
 *  it was lifted and its click is done. */
export function holding(lifted) {
  let down = false;
  addEventListener("pointerdown", () => { down = true; });
  for (const name of ["pointerup", "pointercancel"]) addEventListener(name, () => { down = false; setTimeout(lifted, 100); });
  return () => down;
}
