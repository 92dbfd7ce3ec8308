// The board of a page that is cut off: what the kitchen said last, and what was tapped
// here since. A deadline is the time of the boil and the whole process, as everywhere.

import { focusOn } from "./held.js";
import { booked, drop, read, straight } from "./late.js";

const MINUTE_MS = 60_000;
const SECOND_MS = 1_000;
const WORDS = {
  venting: "vent clock runs",
  vented: "vented: close the vent",
  boiling: "process clock runs",
  resting: "done, resting",
  ready: "ready to lift out",
  lost: "lost: the whole time again",
  out: "lifted out",
};
const KEYS = {
  waiting: ["venting", "full-boil"],
  venting: ["venting-stopped", "full-boil"],
  vented: ["full-boil", "venting-stopped"],
  lost: ["venting", "full-boil"],
  boiling: ["boil-lost"],
  resting: ["boil-lost"],
  ready: ["lifted", "boil-lost"],
  out: [],
};

const drawn = new WeakMap(); // how the kitchen drew a card, to go back to

const wholeSecond = (ms) => Math.ceil(ms / SECOND_MS) * SECOND_MS; // never shown early

function standing(card, taps, now) {
  let since = Number(card.dataset.sinceMs);
  let vents = Number(card.dataset.ventingMs);
  let lost = Boolean(card.dataset.lost);
  for (const tap of taps) {
    if (tap.tap === "venting") vents = tap.tapped;
    if (tap.tap === "venting-stopped") vents = 0;
    if (tap.tap === "full-boil") since = tap.tapped;
    if (tap.tap === "boil-lost") [since, vents, lost] = [0, 0, true];
    if (tap.tap === "lifted") return { phase: "out" };
  }
  if (!since && vents) {
    const open = wholeSecond(vents + Number(card.dataset.ventMin) * MINUTE_MS);
    return now < open ? { phase: "venting", until: open } : { phase: "vented" };
  }
  if (!since) return { phase: lost ? "lost" : "waiting" };
  const end = wholeSecond(since + Number(card.dataset.processMin) * MINUTE_MS);
  const lift = end + Number(card.dataset.restMin) * MINUTE_MS;
  if (now < end) return { phase: "boiling", until: end };
  return now < lift ? { phase: "resting", until: lift } : { phase: "ready" };
}

const waiting = () => read().filter((one) => one.of && !one.no && !straight.has(one.token));
const tapped = () => [...booked, ...waiting()]; // since the kitchen drew this board
const cards = () => [...document.querySelectorAll("#stove [data-phase]")];

// The card of a load that is in the canner another one is said to boil in; the kitchen refuses that too.
export function aboard(of, ms) {
  const canner = cards().find((card) => card.dataset.of === of)?.dataset.canner;
  const taps = tapped();
  return cards().find((card) => card.dataset.of !== of && card.dataset.canner === canner
    && ["venting", "vented", "boiling", "resting", "ready"].includes(standing(card, taps.filter((tap) => tap.of === card.dataset.of), ms).phase));
}

function says(card, { phase, until }, clock) {
  const { processMin, ventMin, close, at, rest, again, lid, out } = card.dataset;
  return {
    venting: `of ${ventMin} min of steady steam, from ${clock(until - ventMin * MINUTE_MS)} until ${clock(until)}; the vent stays open, and somebody in the kitchen`,
    vented: `steam has streamed for ${ventMin} min: ${close}; then ${processMin} min`,
    boiling: `of ${processMin} min ${at}, from ${clock(until - processMin * MINUTE_MS)} until ${clock(until)}`,
    resting: `${rest}; jars stay in until ${clock(until)}${lid ? `. ${lid}` : ""}`,
    ready: out,
    lost: `${again}: the whole ${processMin} min start again`,
    out: "",
  }[phase];
}

function setText(element, text) {
  if (element && element.textContent !== text) element.textContent = text;
}

function setNumerals(card, { phase, until }) {
  let big = card.querySelector(".big");
  if (!big) {
    big = document.createElement("p");
    big.setAttribute("role", "timer");
    card.querySelector(".says").before(big);
  }
  big.className = until ? "big" : "big still";
  if (until) big.dataset.untilMs = until;
  else {
    delete big.dataset.untilMs;
    setText(big, { lost: "lost", vented: "close" }[phase] ?? "out");
  }
}

// A key that goes while it has the focus leaves it to its card: a keyboard goes on there.
function setHidden(form, hidden) {
  const held = hidden && form.contains(document.activeElement);
  form.hidden = hidden;
  if (held) focusOn(form.closest("section, li"));
}

function setKeys(place, wanted) {
  const more = place.querySelector("template");
  for (const tap of wanted) {
    const spare = more?.content.querySelector(`[data-tap="${tap}"]`);
    if (spare && !place.querySelector(`:scope > [data-tap="${tap}"]`)) place.append(spare.cloneNode(true));
  }
  for (const form of place.querySelectorAll(":scope > form")) setHidden(form, !wanted.includes(form.dataset.tap));
}

// What waits stands where it was tapped, and the last of it can be taken back.
function setWaiting(place, taps, more = "") {
  const there = place.querySelector(":scope > .waits");
  const names = [...taps.map((tap) => tap.token), more].join(" ");
  if (!taps.length) there?.remove();
  if (!taps.length || there?.dataset.names === names) return;
  const waits = document.createElement("div");
  waits.className = "waits";
  waits.dataset.names = names;
  waits.setAttribute("role", "status");
  const said = document.createElement("p");
  said.textContent = [...taps.map((tap) => `${tap.what}, tapped ${tap.clock}.`), "It waits on this device.", more].join(" ");
  const back = document.createElement("button");
  back.className = "key plain";
  back.textContent = "Take it back";
  back.addEventListener("click", () => drop(taps.at(-1)));
  waits.append(said, back);
  if (there) there.replaceWith(waits);
  else place.append(waits);
}

function drawCard(card, taps, waits, { ms, clock }, cutOff) {
  const stands = standing(card, taps, ms);
  const place = card.querySelector(".taps");
  if (!taps.length && (!cutOff || stands.phase === card.dataset.phase)) {
    const was = drawn.get(card);
    if (was) {
      drawn.delete(card);
      card.replaceWith(was);
    }
    return;
  }
  if (!drawn.has(card)) drawn.set(card, card.cloneNode(true));
  if (card.matches(".clock")) {
    card.className = `clock ${stands.phase}`;
    setNumerals(card, stands);
    setText(card.querySelector(".says"), says(card, stands, clock));
    setText(card.querySelector("h2 span"), WORDS[stands.phase]);
  }
  setKeys(place, KEYS[stands.phase]);
  const until = stands.until && !card.matches(".clock") ? `${says(card, stands, clock)}.` : "";
  setWaiting(place, waits, until);
}

const URGENT = ["ready", "lost", "vented", "resting"]; // in this order, as on the kitchen's board
const RUNS = ["boiling", "venting"];

// The sentence over the board is about its first card: said anew where a card has gone on.
function drawSentence() {
  const head = document.querySelector("#stove h1");
  const cards = [...document.querySelectorAll("#stove .clock")];
  if (!cards.some((card) => drawn.has(card))) {
    const was = drawn.get(head);
    if (was) head.replaceWith(was);
    return;
  }
  const [phase] = [...URGENT, ...RUNS].filter((one) => cards.some((card) => card.matches(`.${one}`)));
  const card = phase && cards.find((one) => one.matches(`.${phase}`));
  const name = card?.querySelector("h2").firstChild.textContent.trim();
  // under the numerals of its card it reads "of 10 min", which is no sentence
  const words = phase === "ready" ? `may come out now ${card.dataset.ifSo}`.trim() : card?.querySelector(".says").textContent.replace(/^of /, "");
  const urgent = URGENT.includes(phase);
  const text = card ? `${name}: ${words}.` : "No clock runs.";
  if (head.dataset.apart === text) return;
  const said = head.cloneNode();
  drawn.set(said, drawn.get(head) ?? head);
  said.dataset.apart = text;
  said.className = urgent ? "sentence cannot-wait" : "sentence";
  if (urgent) {
    const first = document.createElement("span");
    first.textContent = "Cannot wait";
    said.append(first, " ");
  }
  said.append(text);
  head.replaceWith(said);
}

export function drawApart(now, cutOff) {
  const [taps, waits] = [tapped(), waiting()];
  const of = (element, all) => all.filter((tap) => tap.of === element.dataset.of);
  for (const card of cards()) drawCard(card, of(card, taps), of(card, waits), now, cutOff);
  drawSentence();
  for (const place of document.querySelectorAll("#stove .steps[data-of]")) {
    const said = of(place, taps).map((tap) => tap.tap);
    for (const form of place.querySelectorAll(":scope > form")) {
      setHidden(form, said.includes("done") || said.includes(form.dataset.tap));
    }
    setWaiting(place, of(place, waits));
  }
}
