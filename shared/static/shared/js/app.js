// Small behaviours of every page, attached by data- attributes and delegated from the
// document, so that they work on what htmx swaps in as well.

const progress = () => document.getElementById("progress");

// --- light and dark, remembered on this device ---

/** Do something with what is kept on this device; null where that is full or forbidden. */
export function onDisk(work) {
  try {
    return work(localStorage);
  } catch {
    return null;
  }
}

function showTheme(choice) {
  for (const button of document.querySelectorAll("[data-theme-choice]")) {
    button.setAttribute("aria-pressed", String(button.dataset.themeChoice === choice));
  }
}

function chooseTheme(choice) {
  if (choice) document.documentElement.dataset.theme = choice;
  else delete document.documentElement.dataset.theme;
  onDisk((disk) => (choice ? disk.setItem("theme", choice) : disk.removeItem("theme")));
  showTheme(choice);
}

// --- messages made on the device ---

export function say(text, level = "info") {
  const message = document.createElement("div");
  message.className = `message message--${level}`;
  const words = document.createElement("span");
  words.className = "message__text";
  words.textContent = text;
  const away = document.createElement("button");
  away.type = "button";
  away.className = "button button--quiet";
  away.dataset.dismiss = "";
  away.textContent = "Put away";
  message.append(words, away);
  document.getElementById("messages")?.append(message);
}

// --- the bench: how many plates are chosen, and choosing a whole rail ---

function countPicks(bench) {
  const picked = bench.querySelectorAll("[data-pick]:checked").length;
  for (const place of bench.querySelectorAll("[data-pick-count]")) {
    place.textContent = picked === 1 ? "1 panel chosen" : `${picked} panels chosen`;
  }
}

function pickAll(button) {
  const boxes = [...button.closest("[data-pick-group]").querySelectorAll("[data-pick]")];
  const on = !boxes.every((box) => box.checked);
  for (const box of boxes) box.checked = on;
  countPicks(button.closest("[data-picks]"));
}

function dropPicks(button) {
  const bench = button.closest("[data-picks]");
  for (const box of bench.querySelectorAll("[data-pick]:checked")) box.checked = false;
  countPicks(bench);
}

// --- one listener a kind ---

const clicks = {
  "[data-theme-choice]": (button) => chooseTheme(button.dataset.themeChoice),
  "[data-pick-all]": pickAll,
  "[data-pick-none]": dropPicks,
  "[data-open]": (button) => document.getElementById(button.dataset.open)?.showModal(),
  "[data-close]": (button) => button.closest("dialog")?.close(),
  "[data-dismiss]": (button) => button.closest(".message")?.remove(),
  "[data-print]": () => window.print(),
};

document.addEventListener("click", (event) => {
  for (const [selector, act] of Object.entries(clicks)) {
    const target = event.target.closest(selector);
    if (target) act(target);
  }
});

// A bench may come back, or be swapped in, with plates already chosen.
for (const event of ["pageshow", "htmx:load"]) {
  window.addEventListener(event, () => {
    for (const bench of document.querySelectorAll("[data-picks]")) countPicks(bench);
  });
}

document.addEventListener("change", (event) => {
  const bench = event.target.closest("[data-picks]");
  if (bench && event.target.matches("[data-pick]")) countPicks(bench);
  if (event.target.matches("[data-send-on-change]")) event.target.form?.requestSubmit();
});

// --- whatever takes long shows the same progress as htmx does ---

const LONGEST_WAIT = 20_000; // ms; an answer that is a download never leaves this page
let waiting = 0;

function showProgress() {
  progress()?.classList.add("progress--on");
  clearTimeout(waiting);
  waiting = setTimeout(hideProgress, LONGEST_WAIT);
}

function hideProgress() {
  progress()?.classList.remove("progress--on");
}

/** Whether a click on a link leaves this page for another of ours. */
function leaves(link, event) {
  const elsewhere = event.button || event.metaKey || event.ctrlKey || event.shiftKey;
  if (event.defaultPrevented || elsewhere) return false;
  if (link.matches("[download], [target], [hx-get], [hx-post]")) return false;
  if (link.origin !== location.origin) return false;
  return link.pathname + link.search !== location.pathname + location.search || !link.hash;
}

document.addEventListener("click", (event) => {
  const link = event.target.closest("a[href]");
  if (link && leaves(link, event)) showProgress();
});

// A plain form is sent once, however often its button is pressed.
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (event.defaultPrevented || form.matches("[hx-post], [hx-get], [method=dialog]")) return;
  if (form.dataset.sent) {
    event.preventDefault();
    return;
  }
  showProgress();
  if (!form.matches("[data-download]")) form.dataset.sent = "yes";
});

window.addEventListener("pageshow", () => {
  hideProgress();
  for (const form of document.querySelectorAll("form[data-sent]")) delete form.dataset.sent;
});

// --- htmx: what went wrong is said, what was refused takes the focus ---

document.addEventListener("htmx:sendError", ({ target }) =>
  target.matches("[data-quiet]") || say("No answer from the shop’s server. Nothing was changed; try again when the network is back.", "error"),
);

document.addEventListener("htmx:responseError", (event) => {
  const status = event.detail.xhr.status;
  const words = { 403: "That isn’t yours to do.", 404: "That is no longer there. Reload the page." };
  say(words[status] ?? "That did not go through. Nothing was changed; try once more.", "error");
});

document.addEventListener("htmx:afterSettle", (event) => {
  const root = document.getElementById(event.detail.target?.id); // none when the browser goes back
  if (!root) return;
  const wanted = root.querySelector("[data-take-focus]");
  if (wanted) wanted.focus();
  else if (root.id === "dialog") root.showModal();
  else if (document.activeElement === document.body) {
    // What had the focus is gone: stay where the work is, for keys and screen readers.
    root.tabIndex = -1;
    root.focus({ preventScroll: true });
  }
});

document.querySelector("[data-take-focus]:not([data-sample] *)")?.focus();
showTheme(onDisk((disk) => disk.getItem("theme")) ?? "");
