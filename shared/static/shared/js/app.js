// Small behaviours of every page, attached by data- attributes and delegated from the
// document, so that they work on what htmx swaps in as well.

const progress = () => document.getElementById("progress");

// --- light and dark, remembered on this device ---

const storedTheme = () => {
  try {
    return localStorage.getItem("theme") ?? "";
  } catch {
    return "";
  }
};

function showTheme(choice) {
  for (const button of document.querySelectorAll("[data-theme-choice]")) {
    button.setAttribute("aria-pressed", String(button.dataset.themeChoice === choice));
  }
}

function chooseTheme(choice) {
  if (choice) document.documentElement.dataset.theme = choice;
  else delete document.documentElement.dataset.theme;
  try {
    if (choice) localStorage.setItem("theme", choice);
    else localStorage.removeItem("theme");
  } catch {
    // Not remembered then, but it holds for this page.
  }
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

document.addEventListener("change", (event) => {
  const bench = event.target.closest("[data-picks]");
  if (bench && event.target.matches("[data-pick]")) countPicks(bench);
  if (event.target.matches("[data-send-on-change]")) event.target.form?.requestSubmit();
});

// A plain form or a slow link shows the same progress as htmx does, and is sent once.
document.addEventListener("submit", (event) => {
  if (event.defaultPrevented || event.target.matches("[hx-post], [hx-get], [method=dialog], [data-download]")) return;
  if (event.target.dataset.sent) {
    event.preventDefault();
    return;
  }
  event.target.dataset.sent = "yes";
  progress()?.classList.add("progress--on");
});

window.addEventListener("pageshow", () => {
  progress()?.classList.remove("progress--on");
  for (const form of document.querySelectorAll("form[data-sent]")) delete form.dataset.sent;
});

// --- htmx: what went wrong is said, what was refused takes the focus ---

document.addEventListener("htmx:sendError", () =>
  say("No answer from the shop’s server. Nothing was changed; try again when the network is back.", "error"),
);

document.addEventListener("htmx:responseError", (event) => {
  const status = event.detail.xhr.status;
  const words = { 403: "That isn’t yours to do.", 404: "That is no longer there. Reload the page." };
  say(words[status] ?? "That did not go through. Nothing was changed; try once more.", "error");
});

document.addEventListener("htmx:afterSwap", (event) => {
  event.detail.target.querySelector("[data-take-focus]")?.focus();
  if (event.detail.target.id === "dialog") event.detail.target.showModal();
});

document.querySelector("[data-take-focus]:not([data-sample] *)")?.focus();
showTheme(storedTheme());
