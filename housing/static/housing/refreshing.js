// The figures of a page read again every minute while it is in view, and as it comes into view again.
// The part marked data-refreshed is replaced; where someone is in it, or has opened a table, it is left alone.

const EVERY_MS = 60_000;
const CHOSEN = "figures-every-minute";
const part = document.querySelector("[data-refreshed]");
const choice = document.querySelector("[data-refreshing]");
const box = choice?.querySelector("input");
let last = Date.now();

const isInUse = () => part.contains(document.activeElement) || part.querySelector("details[open]") !== null;

async function refresh() {
  if (!box.checked || document.hidden || isInUse() || Date.now() - last < EVERY_MS) return;
  last = Date.now();
  try {
    const answer = await fetch(location.href, { headers: { Accept: "text/html" } });
    if (!answer.ok || answer.redirected) return;
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const newer = page.querySelector("[data-refreshed]");
    if (newer && !isInUse()) part.replaceChildren(...newer.childNodes);
  } catch {
    // No connection just now: the figures stay as they were until the next minute.
  }
}

if (part && box) {
  box.checked = localStorage.getItem(CHOSEN) !== "no";
  choice.hidden = false;
  box.addEventListener("change", () => localStorage.setItem(CHOSEN, box.checked ? "yes" : "no"));
  document.addEventListener("visibilitychange", refresh);
  setInterval(refresh, EVERY_MS / 4);
}
