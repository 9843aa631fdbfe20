// Where somebody was in a long list, kept with that step of the browser's history: who comes back, by the way back or
// after a reload, lands there again. Whoever comes anew begins at the top.

const AFTER_SCROLLING_MS = 250;

const rows = () => document.querySelectorAll("[data-row]");
const rowOf = (key) => Array.from(rows()).find((row) => row.dataset.row === key);

/** The first row that is in sight, folded ones left out. */
const firstInSight = () => Array.from(rows()).find((row) => row.getBoundingClientRect().bottom > 0 && row.checkVisibility());

/** What was kept with this step of the history: {row, top, from}, or null. */
export const keptPlace = () => history.state?.inList ?? null;

function keep(from) {
  const row = firstInSight();
  if (row) history.replaceState({ ...history.state, inList: { row: row.dataset.row, top: row.getBoundingClientRect().top, from } }, "");
}

/**
 * Go on keeping where somebody is, until the screen is another.
 * @returns {() => void} stops it
 */
export function keepPlace() {
  const here = location.hash;
  let later = 0;
  const now = (from = null) => { clearTimeout(later); if (location.hash === here) keep(from); };
  const scrolled = () => { clearTimeout(later); later = setTimeout(now, AFTER_SCROLLING_MS); };
  const clicked = (event) => now(event.target.closest("[data-row]")?.dataset.row);
  addEventListener("scroll", scrolled, { passive: true });
  addEventListener("click", clicked, true);
  return () => { clearTimeout(later); removeEventListener("scroll", scrolled); removeEventListener("click", clicked, true); };
}

/** Lay the kept row where it was on the screen, and the focus on what led away. @param {{row: string, top: number, from: string|null}} place */
export function goBackTo({ row: key, top, from }) {
  const row = rowOf(key);
  if (!row) return;
  for (let at = row.parentElement.closest("details"); at; at = at.parentElement.closest("details")) at.open = true;
  scrollBy(0, row.getBoundingClientRect().top - top);
  if (from) rowOf(from)?.querySelector("a, summary, button")?.focus({ preventScroll: true });
}
