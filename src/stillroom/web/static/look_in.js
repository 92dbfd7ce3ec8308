// Who looks in on a pot every few minutes says that she did, and is told when it is due
// again. It is a reminder of this device and no part of the record; without this script
// the words about looking in stand alone.

const KEY = "stillroom-look-in";
const MINUTE_MS = 60_000;
const KEPT_MS = 24 * 60 * MINUTE_MS; // a day's pots are over by then

function kept() {
  try {
    const said = JSON.parse(localStorage.getItem(KEY) ?? "{}");
    return said && typeof said === "object" && !Array.isArray(said) ? said : {};
  } catch {
    return {};
  }
}

const called = new Set(); // called out once, and not at each look of the page again
let due = kept(); // when each pot wants looking at again, by the kitchen's clock

function write(now) {
  due = Object.fromEntries(Object.entries(due).filter(([, ms]) => ms > now - KEPT_MS));
  try {
    localStorage.setItem(KEY, JSON.stringify(due));
  } catch {
    // a browser that keeps nothing reminds as long as the page is open
  }
}

function words(left, at) {
  if (left <= 0) return `Look in now: it was due at ${at}.`;
  return `Look in again in ${Math.floor(left / 60)}:${String(left % 60).padStart(2, "0")}, at ${at}.`;
}

export function drawLookIn({ ms, clock }) {
  for (const place of document.querySelectorAll("[data-look-in-min]")) {
    place.hidden = false;
    const at = due[place.dataset.of];
    const said = place.querySelector(".due");
    if (!Number.isFinite(at) || Math.abs(at - ms) > KEPT_MS) continue; // none of ours
    const left = Math.ceil((at - ms) / 1000);
    const text = words(left, clock(at).replace(/:\d\d$/, ""));
    if (said.textContent !== text) said.textContent = text;
    place.classList.toggle("caution", left <= 0);
    const mark = `${place.dataset.of} ${at}`;
    said.setAttribute("role", left <= 0 && !called.has(mark) ? "alert" : "timer");
    if (left <= 0 && !called.has(mark)) setTimeout(() => called.add(mark), MINUTE_MS / 60);
  }
}

// The stove's page hands over its time.
export function heedLookIn(kitchens) {
  document.addEventListener("click", (event) => {
    const place = event.target.closest("[data-look-in-min] button")?.closest("[data-look-in-min]");
    if (!place) return;
    const now = kitchens();
    due[place.dataset.of] = now.ms + Number(place.dataset.lookInMin) * MINUTE_MS;
    write(now.ms);
    drawLookIn(now);
  });
}
