// Entries made where nothing can be sent: kept here with their own time and name, sent
// when the kitchen answers again. Sent twice, an entry counts once: the server knows
// its name. Without this script the forms work as they stand, and need the network.

import { isDown, lifted } from "./press.js";

const KEY = "stillroom-late";
const AGAIN_MS = 15_000;
const TOLD_MS = 300_000; // at the stove, whose page stays open all day

// A store that this browser refuses, or that holds something else, holds no entry:
// the clocks at the stove go on without it. To write there is refused aloud.
export function read() {
  try {
    const queue = JSON.parse(localStorage.getItem(KEY) ?? "[]");
    return Array.isArray(queue) ? queue : [];
  } catch {
    return [];
  }
}

const write = (queue) => localStorage.setItem(KEY, JSON.stringify(queue));

export function token(size = 16) {
  const bytes = crypto.getRandomValues(new Uint8Array(size));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

function line(text, strong) {
  const said = document.createElement("p");
  if (strong) {
    const word = document.createElement("b");
    word.textContent = strong;
    said.append(word, " ");
  }
  said.append(text);
  return said;
}

const mineHere = new Set(); // names of the entries that were typed in on this page as it is open
const told = []; // what arrived while this page was open

const capital = (text) => text[0].toUpperCase() + text.slice(1);
const ended = (text) => (/[.!?]$/.test(text) ? text : `${text}.`);

// The form that an entry came from, if it is on this page with all its fields.
const formOf = (entry) =>
  [...document.querySelectorAll("form[data-late]")].find((form) =>
    entry.fields.every(([name, value]) => {
      const field = form.elements[name];
      return field && (field.type !== "hidden" || field.value === value || name === "back");
    }),
  );

const written = (form) =>
  [...form.elements].filter((field) => field.matches("input:not([type=hidden])") && field.value);

const refill = (form, entry) => {
  for (const [name, value] of entry.fields) form.elements[name].value = value;
};

// Whether what was typed stands in the fields of its form already.
const standsIn = (form, entry) =>
  entry.fields.every(([name, value]) => form.elements[name].type === "hidden" || form.elements[name].value === value);

function putBack(entry) {
  const form = formOf(entry);
  refill(form, entry);
  drop(entry);
  const folded = form.closest("details");
  if (folded) folded.open = true;
  written(form)[0]?.focus();
}

function button(words, pressed) {
  const key = document.createElement("button");
  key.className = "key plain";
  key.textContent = words;
  key.addEventListener("click", pressed);
  return key;
}

function link(words, address) {
  const key = document.createElement("a");
  key.className = "key plain";
  key.textContent = words;
  key.href = address;
  return key;
}

// Kept as a tap of the stove keeps itself: "of" says of which load or step it is.
export function keep(entry) {
  mineHere.add(entry.token);
  write([...read(), entry]);
  show();
}

export const straight = new Set(); // names of the taps that this page is just sending by itself

// Taps that the kitchen has booked, until a board of it comes that shows them: the network
// may be gone again before that, and a boil that was lost stays lost on this page.
export const booked = [];

// Drops those that a board shows: it was asked for when so many were there.
export const shownNow = (many) => booked.splice(0, many);

export function drop(entry) {
  write(read().filter((one) => one.token !== entry.token));
  show();
}

// Taps of one load follow one another: none goes before one that still waits.
const isBehind = (entry, queue) =>
  entry.of && queue.slice(0, queue.indexOf(entry)).some((one) => one.of === entry.of && (one.sure || !one.no));

function sure(entry) {
  write(read().map((one) => (one.token === entry.token
    ? { ...one, no: undefined, instead: undefined, sure: undefined, fields: [...one.fields, ["sure", "yes"]] } : one)));
  show();
  send();
}

export function show() {
  const place = document.getElementById("late");
  if (!place) return;
  if (isDown()) { // its keys may be under the finger
    lifted().then(show);
    return;
  }
  const queue = read();
  const waiting = queue.filter((entry) => !entry.no && !straight.has(entry.token));
  place.replaceChildren();
  for (const said of told) place.append(line(said, "Booked:"));
  if (waiting.length) {
    const many = waiting.length === 1 ? "1 entry waits" : `${waiting.length} entries wait`;
    const sent = waiting.length === 1 ? "It is sent by itself" : "They are sent by themselves";
    place.append(line(`${sent} when the kitchen answers again.`, `${many} on this device.`));
  }
  for (const entry of waiting.filter((one) => one.stuck)) {
    place.append(line(`${ended(entry.stuck)} It waits here, and is sent again by itself.`, `Not taken yet (${entry.what}):`));
    place.append(button("Take it off this device", () => drop(entry)));
  }
  for (const entry of queue.filter((one) => one.no)) {
    place.append(line(`${ended(entry.no)} ${entry.instead ? ended(capital(entry.instead)) : ""}`, `Not booked (${entry.what}):`));
    if (entry.sure) {
      place.append(button(entry.sure, () => sure(entry)), " ", button("Take it off this device", () => drop(entry)));
      continue;
    }
    if (entry.ask) {
      place.append(link("Is it so?", entry.ask), " ", button("Take it off this device", () => drop(entry)));
      continue;
    }
    const form = formOf(entry);
    if (form && !standsIn(form, entry)) place.append(button("Put back what I typed", () => putBack(entry)), " ");
    place.append(button("I have read it: take it off", () => drop(entry)));
  }
  place.setAttribute("role", queue.some((one) => one.no || one.stuck) ? "alert" : "status");
  place.hidden = !place.childElementCount;
  place.className = queue.some((one) => one.no || one.stuck) ? "caution" : "note";
}

// What was answered is seen where the thumb is, at the foot of a long shelf; who types on is left alone.
function intoView() {
  const typing = document.activeElement?.matches("input, textarea, select");
  if (!typing) document.getElementById("late")?.scrollIntoView({ block: "nearest" });
}

let sending = false;
let askedMeanwhile = false; // the network may come back while a try that was cut off still ends
export async function send() {
  if (sending) {
    askedMeanwhile = true;
    return;
  }
  sending = true;
  let arrived = false;
  let ofHere = false;
  const tried = new Set(); // each once a round: one that is not taken holds up no other
  try {
    for (;;) {
      // what is asked about is sent again too: the answer says whether it was confirmed since
      const all = read();
      const may = (one) => (!one.no || one.ask) && !tried.has(one.token) && !straight.has(one.token);
      const entry = all.find((one) => may(one) && !isBehind(one, all));
      if (!entry) break;
      tried.add(entry.token);
      ofHere ||= mineHere.has(entry.token);
      const body = new URLSearchParams(entry.fields);
      body.set("token", entry.token);
      body.set("at", entry.at);
      if (entry.of) {
        body.set("tapped", entry.tapped);
        body.set("age", Math.max(0, Date.now() - Date.parse(entry.at)));
      }
      const answer = await fetch(entry.of ? "/stove/late" : "/stock/late", { method: "POST", body, signal: AbortSignal.timeout(10_000) });
      const said = await answer.json().catch(() => ({})); // a page of words is none of ours
      const queue = read();
      const mine = queue.find((one) => one.token === entry.token);
      if (answer.ok && said.said) {
        const words = entry.of ? said.said.map((one) => `${entry.what}, ${one}`) : said.said;
        if (entry.of) setTimeout(() => { told.length = 0; show(); }, TOLD_MS);
        if (!mine?.ask) told.push(...(said.again ? [`${entry.what} was booked before`] : words));
        for (const one of queue.filter((next) => entry.of && next.of === entry.of)) { // it was tapped in the light of this one
          one.fields = one.fields.map(([name, seen]) => [name, name === "seen" ? String(Math.max(seen, said.seen)) : seen]);
        }
        if (entry.of) booked.push({ ...entry, seen: said.seen });
        write(queue.filter((one) => one !== mine));
        arrived = true;
      } else if (mine) {
        if (said.no) {
          const first = said.ask && !mine.ask;
          Object.assign(mine, { no: said.no, instead: said.instead, ask: said.ask, sure: said.sure });
          if (first && mineHere.has(mine.token)) { // who typed it in is here to be asked
            write(queue);
            askedMeanwhile = false; // this page is left
            location.href = said.ask;
            return;
          }
          const form = !said.ask && mineHere.has(mine.token) && formOf(mine);
          if (form && !written(form).length) refill(form, mine);
        }
        else mine.stuck = said.later ?? `The kitchen's machine could not take it (answer ${answer.status})`;
        write(queue);
      }
    }
  } catch {
    // no network: all stays where it is
  } finally {
    sending = false;
    show();
    if (ofHere && !document.getElementById("stove")) intoView(); // at the stove the clocks stay where they are
    if (arrived) {
      document.dispatchEvent(new Event("arrived"));
      await fresh();
    }
    if (askedMeanwhile) {
      askedMeanwhile = false;
      send();
    }
  }
}

// Just after a device says that it is on the network again a first try may still fail.
const SOON_MS = [1_000, 3_000];
function backOnline() {
  send();
  for (const wait of SOON_MS) setTimeout(() => { if (read().some((entry) => !entry.no)) send(); }, wait);
}

async function fresh() {
  const shelf = document.querySelector("#shelf[data-fresh]"); // of the stock's own pages
  if (!shelf) return;
  try {
    const answer = await fetch(location.href, { cache: "no-store", signal: AbortSignal.timeout(8_000) });
    const drawn = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector("#shelf[data-fresh]");
    await lifted();
    const typing = [...shelf.querySelectorAll("input:not([type=hidden])")].some(
      (field) => field === document.activeElement || field.value !== field.defaultValue,
    );
    if (answer.ok && drawn && !typing) shelf.replaceWith(document.adoptNode(drawn));
  } catch {
    // the page stays as it was
  }
}

// A form marked "away" asks first what would be booked, as long as somebody answers.
async function answered(form) {
  if (!navigator.onLine) return false;
  const address = `${form.action}?${new URLSearchParams(new FormData(form))}`;
  try {
    const answer = await fetch(address, { cache: "no-store", signal: AbortSignal.timeout(5_000) });
    if (answer.status >= 500) return false;
    location.href = address;
    return true;
  } catch {
    return false;
  }
}

document.addEventListener("submit", async (event) => {
  const form = event.target;
  if (!form.matches("form[data-late]")) return;
  event.preventDefault();
  if (form.dataset.asking) return; // a second tap while it is not yet known who answers
  if (form.dataset.late === "away") {
    form.dataset.asking = "yes";
    const gone = await answered(form);
    delete form.dataset.asking;
    if (gone) return;
  }
  const fields = [...new FormData(form)].filter(
    ([name, value]) => name !== "token" && typeof value === "string" && (value.trim() || !name.startsWith("n.")),
  );
  const counted = fields.filter(([name]) => name.startsWith("n.")).length;
  if (form.querySelector("[name^='n.']") && !counted) return;
  const value = (name) => fields.find(([key]) => key === name)?.[1] ?? "";
  const came = value("deed") === "add" ? `came in: ${value("sentence")}` : "";
  const what = came ? came : counted ? `count of ${value("place")}, ${counted === 1 ? "1 line" : `${counted} lines`}` : `${value("deed")}, ${value("lot")}`;
  const name = token();
  const mended = (one) => one.no && mineHere.has(one.token) && formOf(one) === form;
  mineHere.add(name);
  try {
    write([...read().filter((one) => !mended(one)), { token: name, at: new Date().toISOString(), what, fields }]);
  } catch { // this browser keeps nothing: the form goes as it would without this script
    form.removeAttribute("data-late");
    setTimeout(() => form.requestSubmit(event.submitter)); // not while this one is still asked about
    return;
  }
  form.reset();
  document.activeElement?.blur();
  show();
  intoView();
  send();
});

// A question that was answered with "Leave it" names its entry in the address.
const left = new URLSearchParams(location.search).get("left");
if (left && read().length) write(read().filter((one) => !(one.ask && one.token === left)));

show();
send();
setInterval(() => { if (read().some((entry) => !entry.no)) send(); }, AGAIN_MS);
addEventListener("online", backOnline);
addEventListener("pageshow", send);
document.addEventListener("visibilitychange", () => { if (!document.hidden) send(); });
