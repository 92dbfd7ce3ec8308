// Counts down between two looks at the server, and looks every ten seconds.
// Without it the page reloads instead. The deadline is always the server's.

const LOOK_MS = 10_000;
let ahead = 0; // how far this device's clock is ahead of the server's

const stove = () => document.getElementById("stove");
const sync = () => { ahead = Date.now() - Number(stove().dataset.nowMs); };

function count() {
  let ended = false;
  for (const big of document.querySelectorAll("[data-until-ms]")) {
    const left = Math.max(0, Math.ceil((Number(big.dataset.untilMs) - Date.now() + ahead) / 1000));
    const text = `${Math.floor(left / 60)}:${String(left % 60).padStart(2, "0")}`;
    if (big.textContent !== text) big.textContent = text;
    ended ||= left === 0;
  }
  return ended;
}

let looking = false;
async function look() {
  if (looking) return;
  looking = true;
  try {
    const answer = await fetch("/stove", { cache: "no-store", signal: AbortSignal.timeout(8_000) });
    const drawn = new DOMParser().parseFromString(await answer.text(), "text/html");
    const fresh = drawn.getElementById("stove");
    if (!answer.ok || !fresh) throw new Error(`${answer.status}`);
    const held = document.activeElement?.id;
    const open = [...document.querySelectorAll(".clock:has(details[open])")].map((clock) => clock.id);
    stove().replaceWith(document.adoptNode(fresh));
    for (const id of open) document.querySelector(`#${CSS.escape(id)} details`)?.setAttribute("open", "");
    if (held) document.getElementById(held)?.focus();
    sync();
    document.getElementById("apart").hidden = true;
  } catch {
    document.getElementById("apart").hidden = false;
  } finally {
    looking = false;
  }
}

let next = Date.now() + LOOK_MS;
function draw() {
  const ended = count();
  if (Date.now() >= next || (ended && Date.now() >= next - LOOK_MS + 1_000)) {
    next = Date.now() + LOOK_MS;
    look();
  }
}

sync();
setInterval(draw, 250);
document.addEventListener("visibilitychange", () => { if (!document.hidden) look(); });
addEventListener("pageshow", (shown) => { if (shown.persisted) look(); });
