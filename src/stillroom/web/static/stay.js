// A press that would open another page, or send a form, first asks whether anybody
// answers. Where nobody does, the page stays with all that stands and is typed on it.

const REACH_MS = 5_000;

// The device's own word is not asked: a kitchen on this very machine needs no network.
async function reached() {
  try {
    await fetch("/static/icon.svg", { method: "HEAD", cache: "no-store", signal: AbortSignal.timeout(REACH_MS) });
    return true;
  } catch {
    return false;
  }
}

const clock = () => {
  const now = new Date();
  return `${now.getHours()}:${String(now.getMinutes()).padStart(2, "0")}`;
};

// Says beside what was pressed why nothing came of it.
export function say(pressed, words, key) {
  document.querySelector(".stayed")?.remove();
  const said = document.createElement("p");
  said.className = "caution stayed";
  said.setAttribute("role", "alert");
  const strong = document.createElement("b");
  strong.textContent = "There is no network.";
  said.append(strong, " ", words);
  const main = document.getElementById("main");
  const keys = key?.closest("p");
  if (!main.contains(pressed)) main.prepend(said);
  else if (keys) keys.after(said); // a long form has its keys at both ends
  else if (pressed.matches("form")) pressed.append(said);
  else pressed.closest("p, li, dd, nav, h2, section").after(said);
  said.scrollIntoView({ block: "nearest" });
}

const isTyped = (form) => [...form.elements].some((field) => (field.matches("[type=checkbox], [type=radio]")
  ? field.checked !== field.defaultChecked
  : field.matches("input:not([type=hidden]), textarea") && field.value !== field.defaultValue));

// The stove's clocks, and what is typed and not yet sent: a link may take neither away for nothing.
const hasMuch = () => document.getElementById("stove") || [...document.forms].some(isTyped);

function words(pressed) {
  if (pressed.dataset.stays) return pressed.dataset.stays;
  if (pressed.matches("form")) {
    return isTyped(pressed)
      ? "Nothing was sent, and what you typed stands here still: press again when the network is back."
      : "Nothing was sent: press again when the network is back.";
  }
  return document.getElementById("stove")
    ? `This page stays, with its clocks. Write down what it was and the minute, ${clock()}.`
    : "This page stays, with what you typed: press again when the network is back.";
}

document.addEventListener("click", async (event) => {
  const link = event.target.closest("a[href]");
  if (!link || event.defaultPrevented || event.button || event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
  if (link.target || link.hasAttribute("download") || link.origin !== location.origin) return;
  if (link.hash && link.pathname === location.pathname && link.search === location.search) return;
  if (!hasMuch()) return;
  event.preventDefault();
  if (await reached()) location.href = link.href;
  else say(link, words(link));
});

document.addEventListener("submit", async (event) => {
  const form = event.target;
  if (event.defaultPrevented || form.matches("[data-late], [data-tap]")) return;
  if (form.dataset.reached) {
    delete form.dataset.reached;
    return;
  }
  event.preventDefault();
  if (form.dataset.asking) return; // a second tap while it is not yet known who answers
  form.dataset.asking = "yes";
  const there = await reached();
  delete form.dataset.asking;
  if (!there) {
    say(form, words(form), event.submitter);
    return;
  }
  form.dataset.reached = "yes";
  form.requestSubmit(event.submitter);
});

addEventListener("online", () => document.querySelector(".stayed")?.remove());
