// A key that is drawn anew between press and lift is never pressed: the browser gives
// the click to neither. What draws by itself waits until nobody's finger is down.

const CLICK_MS = 100; // the click comes a little after the finger is lifted
const LONGEST_MS = 1_500; // a finger that is lifted where this page does not hear of it

let down = false;
let lets = []; // those who wait
let timer;

function lift() {
  clearTimeout(timer);
  down = false;
  const all = lets;
  lets = [];
  for (const go of all) go();
}

function press() {
  clearTimeout(timer);
  down = true;
  timer = setTimeout(lift, LONGEST_MS);
}

function end() {
  clearTimeout(timer);
  timer = setTimeout(lift, CLICK_MS);
}

addEventListener("pointerdown", press, true);
addEventListener("pointerup", end, true);
addEventListener("pointercancel", end, true);
addEventListener("keydown", (event) => { if (event.key === " " && !event.repeat) press(); }, true); // the space bar presses what has the focus
addEventListener("keyup", (event) => { if (event.key === " ") end(); }, true);
// The press is over before anybody acts on it: what it does may draw at once, others draw behind it.
addEventListener("click", () => {
  down = false;
  clearTimeout(timer);
  timer = setTimeout(lift);
}, true);

export const isDown = () => down;
export const lifted = () => (down ? new Promise((go) => lets.push(go)) : Promise.resolve());
