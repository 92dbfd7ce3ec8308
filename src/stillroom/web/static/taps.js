// A tap at the stove goes to the kitchen by itself, and the page stays. Where nobody
// answers it waits on this device with its own time (late.js), and the clocks go on.
// Without this script the forms work as they stand, and need the network.

import { aboard } from "./apart.js";
import { booked, drop, keep, read, send, show, straight, token } from "./late.js";
import { say } from "./stay.js";

const ANSWER_MS = 6_000;
const ONCE_BYTES = 12; // as the kitchen's own names of a page

const used = new Set(); // taps of this page: the same key of it pressed anew is another tap
const ofWhat = (form) => form.closest("[data-of]").dataset.of;
const mark = (form) => `${form.elements.once.value} ${form.dataset.tap} ${ofWhat(form)}`;

function entryOf(form, { ms, clock }) {
  const tap = form.dataset.tap;
  const of = ofWhat(form);
  const fields = new FormData(form);
  if (used.has(mark(form))) fields.set("once", token(ONCE_BYTES));
  used.add(mark(form));
  fields.set("tap", tap);
  const told = booked.filter((one) => one.of === of).map((one) => one.seen); // the board is not drawn anew yet
  fields.set("seen", Math.max(fields.get("seen"), ...told));
  const what = form.querySelector("button").textContent.trim();
  return { token: token(), at: new Date().toISOString(), tapped: ms, clock, what, of, tap, fields: [...fields] };
}

// A tap of this load or step waits: what is tapped now goes behind it, not before.
const isBehind = (form) => read().some((one) => one.of === ofWhat(form) && !one.no && !straight.has(one.token));

// What came down twice: the same key, while its first press still waits.
function isWaiting(form) {
  const last = read().filter((one) => one.of === ofWhat(form) && !one.no).at(-1);
  return last?.tap === form.dataset.tap;
}

// What the kitchen would ask on a page of its own is asked here, as long as nobody answers there.
function ask(form) {
  form.parentElement.querySelector(".asked-here")?.remove();
  const place = document.createElement("div");
  place.className = "caution asked-here";
  place.setAttribute("role", "alert");
  const said = document.createElement("p");
  const strong = document.createElement("b");
  strong.textContent = form.dataset.asks;
  said.append(strong, ` ${form.dataset.says}`);
  const yes = document.createElement("button");
  yes.className = "key";
  yes.textContent = form.dataset.yes;
  yes.addEventListener("click", () => {
    place.remove();
    const sure = document.createElement("input");
    Object.assign(sure, { type: "hidden", name: "sure", value: "yes" });
    form.append(sure);
    form.requestSubmit();
    sure.remove();
  });
  const no = document.createElement("button");
  no.className = "key plain";
  no.textContent = "No, leave it";
  no.addEventListener("click", () => place.remove());
  const keys = document.createElement("p");
  keys.className = "keys";
  keys.append(yes, " ", no);
  place.append(said, keys);
  form.after(place);
  yes.focus();
  place.scrollIntoView({ block: "nearest" });
}

// Post the form as it would have gone without a script; the page that comes, or nothing.
async function answerTo(form, fields) {
  try {
    const body = new URLSearchParams(fields);
    const answer = await fetch(form.action, { method: "POST", body, cache: "no-store", signal: AbortSignal.timeout(ANSWER_MS) });
    const text = await answer.text();
    const isOurs = answer.status < 500 && text.includes('id="main"'); // and no wifi's page that wants a password
    return isOurs ? { text, taken: answer.ok } : undefined;
  } catch {
    return undefined;
  }
}

async function begin(form, kitchen) {
  form.dataset.going = "yes";
  const shows = booked.length;
  const answer = await answerTo(form, new FormData(form));
  delete form.dataset.going;
  if (answer) kitchen.takeOver({ ...answer, shows });
  else say(form, `The day has not been begun. Write down the minute, ${kitchen.now().clock}, and press again when the network is back.`);
}

// True where a clock would start in a canner that holds another load; that is said.
function isHeld(form, { ms, clock }) {
  const other = form.dataset.tap === "full-boil" && aboard(ofWhat(form), ms);
  if (!other) return false;
  const { canner, name } = other.dataset;
  say(form, `${canner} still holds ${name}: lift it out first, and say so. The clock has not been started; it is ${clock}.`);
  return true;
}

// False where this browser keeps nothing.
function isKept(entry) {
  try {
    keep(entry);
    return true;
  } catch {
    return false;
  }
}

function stays(form, entry, kept) {
  if (!kept) {
    say(form, `This browser can keep nothing: write down ${entry.what}, ${entry.clock}.`);
    return;
  }
  form.closest("#asked")?.remove(); // it is answered
  show();
  send();
}

async function tapped(form, kitchen) {
  if (isWaiting(form)) return;
  const asks = form.dataset.asks && !form.elements.sure;
  if (kitchen.isCutOff() || isBehind(form)) {
    if (isHeld(form, kitchen.now())) return;
    if (asks) ask(form);
    else {
      const entry = entryOf(form, kitchen.now());
      stays(form, entry, isKept(entry));
    }
    return;
  }
  form.dataset.going = "yes";
  const entry = entryOf(form, kitchen.now());
  straight.add(entry.token);
  const shows = booked.length;
  const kept = isKept(entry); // first, so that a page closed in between loses nothing
  const answer = await answerTo(form, entry.fields);
  straight.delete(entry.token);
  delete form.dataset.going;
  if (answer) {
    if (kept) drop(entry);
    kitchen.takeOver({ ...answer, shows });
    return;
  }
  kitchen.cutOff();
  const isRefused = isHeld(form, kitchen.now());
  if (isRefused || asks) {
    if (kept) drop(entry);
    used.delete(mark(form)); // what is asked about is this very tap
    if (!isRefused) ask(form);
    return;
  }
  stays(form, entry, kept);
}

// The stove's page hands over its clock, and what it does with an answer.
export function heed(kitchen) {
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!form.matches("form[data-tap]")) return;
    event.preventDefault();
    if (form.dataset.going) return; // a second tap while it is not yet known who answers
    if (form.dataset.tap === "begin") begin(form, kitchen);
    else tapped(form, kitchen);
  });
}
