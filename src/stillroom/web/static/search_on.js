// While a better plan is looked for, this page asks how it goes and says what came of
// it. The plan that is read is never exchanged under the eyes: a key shows the other.

const EVERY_MS = 3_000;
const place = document.querySelector("#searched[data-goes-on]");

async function ask() {
  let how;
  try {
    const answer = await fetch("/day/search-on", { cache: "no-store", signal: AbortSignal.timeout(EVERY_MS) });
    how = await answer.json();
  } catch {
    how = { goes_on: true }; // no network: the next time
  }
  if (how.goes_on) {
    setTimeout(ask, EVERY_MS);
    return;
  }
  place.querySelector("span").textContent = how.said || "The day was changed meanwhile.";
  place.querySelector("a").textContent = how.better ? "Show it" : "Look again";
}

if (place) setTimeout(ask, EVERY_MS);
