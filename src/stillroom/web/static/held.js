// What has the focus keeps it where the page draws itself anew: a keyboard goes on where
// it was, and nothing scrolls under the eyes of who reads elsewhere.

// Its id, where its link leads to, or its words: what is held, in the board that came.
function sameOf(held, place) {
  if (held.id) return document.getElementById(held.id);
  const href = held.getAttribute("href");
  const isSame = (one) => (href ? one.getAttribute("href") === href : one.textContent === held.textContent);
  return [...place.querySelectorAll(held.localName)].find(isSame);
}

// Words that are to be read next, and before the keys that follow them.
export function focusOn(words) {
  words.setAttribute("tabindex", "-1");
  words.focus({ preventScroll: true });
}

// Called before a place is drawn anew; what it returns is called afterwards.
export function hold(place) {
  const held = document.activeElement;
  if (!held || !place.contains(held)) return () => {};
  const card = held.closest("section[id]")?.id;
  return (fresh) => {
    const same = sameOf(held, fresh);
    same?.focus({ preventScroll: true });
    if (same && document.activeElement === same) return;
    // Where it went with what was done, its card is next, or the sentence, and never
    // another key: the space bar would press that one.
    focusOn((card && document.getElementById(card)) || fresh.querySelector("h1"));
  };
}
