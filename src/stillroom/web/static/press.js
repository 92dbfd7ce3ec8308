// A key that is drawn anew between press and lift is never pressed: the browser gives
// the click to neither. What draws by itself waits until nobody's finger is down.

const CLICK_MS = 100; // the click comes a little after the finger is lifted
const LONGEST_MS = 3_000; // a finger that is lifted where this page does not hear of it

const down = new Set(); // pointers, and the space bar
let lets = []; // those who wait
let timer;

function lift() {
  clearTimeout(timer);
  down.clear();
  const all = lets;
  lets = [];
  for (const go of all) go();
}

function press(by) {
  clearTimeout(timer);
  down.add(by);
  timer = setTimeout(lift, LONGEST_MS);
}

// The last of several fingers ends it: a palm beside the thumb takes no press away.
function end(by) {
  if (!down.has(by)) return;
  if (down.size > 1) {
    down.delete(by);
    return;
  }
  clearTimeout(timer);
  timer = setTimeout(lift, CLICK_MS);
}

const pointer = (event) => event.pointerId;
addEventListener("pointerdown", (event) => press(pointer(event)), true);
addEventListener("pointerup", (event) => end(pointer(event)), true);
addEventListener("pointercancel", (event) => end(pointer(event)), true);
addEventListener("keydown", (event) => { if (event.key === " " && !event.repeat) press(" "); }, true); // presses what has the focus
addEventListener("keyup", (event) => { if (event.key === " ") end(" "); }, true);
// The press is over before anybody acts on it: what it does may draw at once, others draw behind it.
addEventListener("click", () => {
  if (down.size > 1) return;
  down.clear();
  clearTimeout(timer);
  timer = setTimeout(lift);
}, true);

export const isDown = () => down.size > 0;
export const lifted = () => (isDown() ? new Promise((go) => lets.push(go)) : Promise.resolve());
