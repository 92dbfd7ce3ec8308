// Counts down between two looks at the server, and looks every ten seconds.
// Without it the page reloads instead. The deadline is the server's; where it is cut
// off, and something was tapped here since, it is that of the tap.

import { drawApart } from "./apart.js";
import { isAsShown } from "./as_shown.js";
import { focusOn, hold } from "./held.js";
import { booked, shownNow, send, show } from "./late.js";
import { drawLookIn, heedLookIn } from "./look_in.js";
import { lifted } from "./press.js";
import "./stay.js";
import { heed } from "./taps.js";

const LOOK_MS = 10_000;
const MINUTE_MS = 60_000;
let ahead = 0; // how far this device's clock is ahead of the server's

const stove = () => document.getElementById("stove");
function sync() {
  ahead = Date.now() - Number(stove().dataset.nowMs);
  drawLookIn(kitchens());
}
const apart = () => document.getElementById("apart");
const isCutOff = () => apart()?.hidden === false;
const setCutOff = (cut) => { if (apart()) apart().hidden = !cut; };

// A moment as the kitchen's own clock shows it, wherever this device thinks that it is.
function clock(ms) {
  const there = new Date(ms + Number(stove().dataset.zoneMin) * MINUTE_MS);
  const [hours, minutes, seconds] = [there.getUTCHours(), there.getUTCMinutes(), there.getUTCSeconds()];
  return `${hours}:${String(minutes).padStart(2, "0")}:${String(seconds).padStart(2, "0")}`;
}

// The kitchen's time now, and how it is said.
function kitchens() {
  return { ms: Date.now() - ahead, clock };
}

function now() {
  const ms = Date.now() - ahead;
  return { ms, clock: clock(ms) };
}

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

// The plan may be exchanged while this page is open: the key goes on naming the one
// that was read here, and the kitchen asks before it begins another.
function keepPlanRead(fresh) {
  const [was, is] = [stove(), fresh].map((drawn) => drawn.querySelector("[data-tap=begin]"));
  if (was && is) for (const name of ["plan", "done"]) is.elements[name].value = was.elements[name].value;
}

// Nothing happened since: the time alone goes on.
function goOn(fresh) {
  stove().dataset.nowMs = fresh.dataset.nowMs;
  stove().dataset.zoneMin = fresh.dataset.zoneMin;
  stove().querySelector(".wall").textContent = fresh.querySelector(".wall").textContent;
}

function drawAnew(fresh) {
  const giveBack = hold(stove());
  const open = [...document.querySelectorAll(".clock:has(details[open])")].map((clock) => clock.id);
  stove().replaceWith(document.adoptNode(fresh));
  for (const id of open) document.querySelector(`#${CSS.escape(id)} details`)?.setAttribute("open", "");
  giveBack(stove());
}

let looking = false;
let outdated = false; // something was booked since this look began: what it brings is old
async function look() {
  if (looking || !stove()) return; // a page of words came in its place
  looking = true;
  outdated = false;
  const shows = booked.length;
  try {
    // The board that is shown, be it of another day than the stove shows by itself.
    const answer = await fetch(`/stove${stove().dataset.ofDay}`, { cache: "no-store", signal: AbortSignal.timeout(8_000) });
    const drawn = new DOMParser().parseFromString(await answer.text(), "text/html");
    const fresh = drawn.getElementById("stove");
    if (!answer.ok || !fresh) throw new Error(`${answer.status}`);
    await lifted();
    if (outdated || !stove()) return;
    shownNow(shows);
    keepPlanRead(fresh);
    if (isAsShown(stove(), fresh)) goOn(fresh);
    else drawAnew(fresh);
    sync();
    if (isCutOff()) send();
    setCutOff(false);
  } catch {
    setCutOff(true);
  } finally {
    looking = false;
    if (outdated) look();
  }
}

// The page that answers a tap takes the place of this one; its words come into sight.
async function takeOver({ text, taken, shows }) {
  outdated = true;
  await lifted();
  shownNow(shows);
  const drawn = new DOMParser().parseFromString(text, "text/html").getElementById("main");
  const giveBack = hold(document.getElementById("main"));
  document.getElementById("main").replaceChildren(...document.adoptNode(drawn).childNodes);
  show();
  if (!stove()) return;
  sync();
  const asked = document.getElementById("asked");
  if (!taken || asked) scrollTo(0, 0);
  if (asked) focusOn(asked);
  else giveBack(stove());
}

let next = Date.now() + LOOK_MS;
function draw() {
  if (!stove()) return;
  drawApart(kitchens(), isCutOff());
  if (isCutOff()) document.querySelector("#stove .wall").textContent = now().clock.replace(/:\d\d$/, "");
  drawLookIn(kitchens());
  const ended = count();
  if (Date.now() >= next || (ended && Date.now() >= next - LOOK_MS + 1_000)) {
    next = Date.now() + LOOK_MS;
    look();
  }
}

sync();
heedLookIn(kitchens);
heed({ now, isCutOff, cutOff: () => setCutOff(true), takeOver });
setInterval(draw, 250);
document.addEventListener("visibilitychange", () => { if (!document.hidden) look(); });
document.addEventListener("arrived", () => {
  outdated = true;
  look();
});
addEventListener("online", look);
addEventListener("offline", look);
addEventListener("pageshow", (shown) => { if (shown.persisted) look(); });
