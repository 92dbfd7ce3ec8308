// Whether a board that comes says what is shown already. It is not drawn anew then: what
// has the focus would be read out again at each look, and a text that is marked lost.

const MOVING = ".wall, [data-until-ms], .look-in"; // what goes on by itself between two looks

function bare(drawn) {
  const copy = drawn.cloneNode(true);
  for (const one of copy.querySelectorAll(MOVING)) one.replaceChildren();
  for (const one of copy.querySelectorAll(".look-in")) for (const name of ["hidden", "role", "class"]) one.removeAttribute(name);
  for (const one of copy.querySelectorAll("details")) one.removeAttribute("open");
  for (const one of copy.querySelectorAll("[tabindex]")) one.removeAttribute("tabindex");
  return copy.innerHTML.replaceAll(/ name="once" value="[^"]*"/g, ""); // each drawing has a name of its own
}

export const isAsShown = (shown, fresh) => bare(shown) === bare(fresh);
