// The shop's own length keypad, under the box that has the focus. Whether it shows is
// remembered on this device; while it does, the device's own keyboard stays away.

import { echo } from "./length-echo.js";

const LENGTH = "input[data-length]";
const NEXT = ":is(input, select, textarea, button):not([type=hidden], [type=button])";
const pad = document.querySelector("body > [data-keypad]");
const usual = matchMedia("(pointer: coarse)").matches ? "on" : "off";
let [box, fresh, typed, choice] = [null, null, false, localStorage.getItem("keypad") ?? usual];

function ready(one) {
  one.dataset.keys ??= one.inputMode;
  one.inputMode = choice === "on" ? "none" : one.dataset.keys;
  pad.firstElementChild.setAttribute("aria-pressed", choice === "on");
}

/** Put text where the caret is, in the place of what is chosen or else goes before it. */
function put(text, gone = "") {
  const before = box.value.slice(0, box.selectionStart);
  const kept = box.selectionStart < box.selectionEnd ? before : before.replace(gone, "");
  const tight = text.length > 1 && !/\d$/.test(kept);
  box.setRangeText(tight ? text.trimStart() : text, kept.length, box.selectionEnd, "end");
  box.dispatchEvent(new Event("input", { bubbles: true }));
  typed = true;
}

/** Go on: on a walk to the next length or angle that is not read, in a form to whatever comes next. */
function onward(from) {
  if (from.matches(LENGTH) && !echo(from, true)) return from.select(); // what comes takes its place
  const walk = from.closest("[data-walks]");
  const all = [...(walk ?? from.form ?? document).querySelectorAll(walk ? `${LENGTH}, [data-plan-turn]` : NEXT)];
  const next = all.slice(all.indexOf(from) + 1).find((one) => !one.disabled && one.checkVisibility() && !(walk && one.value));
  if (!next) return from.blur();
  next.focus();
  next.select?.();
}

const does = {
  back: () => put("", /( ?\d+\/\d+| ?[a-z]+|.)$/), // a fraction and a unit go in one
  next: () => onward(box),
  toggle() {
    choice = choice === "on" ? "off" : "on";
    localStorage.setItem("keypad", choice);
    box.blur(); // so that the device asks anew which keyboard is wanted
    box.focus();
  },
};

pad?.addEventListener("mousedown", (event) => event.preventDefault()); // the box keeps the focus
pad?.addEventListener("click", ({ target }) => {
  const key = target.closest("button")?.dataset.key;
  if (key in does) does[key]();
  else if (key) put(key, key.includes("/") ? / ?\d+\/\d+$/ : "");
});
document.addEventListener("pointerdown", ({ target }) => pad && target.matches(LENGTH) && ready(target));
document.addEventListener("focusin", ({ target }) => {
  if (!pad || !target.matches(LENGTH)) return;
  ready((box = fresh = target));
  (box.closest(".field") ?? box.parentElement).append(pad);
  box.scrollIntoView({ block: "nearest" }); // clear of the keys
});
document.addEventListener("click", ({ target }) => {
  // On a walk a new reading takes the old one's place; a second tap puts the caret into it.
  if (target === fresh && target.closest("[data-walks]")) target.select();
  fresh = null;
});
document.addEventListener("focusout", ({ target }) => {
  if (target !== box || !typed) return;
  typed = false;
  box.dispatchEvent(new Event("change", { bubbles: true }));
});
document.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || !event.target.matches(`[data-walks] :is(${LENGTH}, [data-plan-turn])`)) return;
  event.preventDefault();
  onward(event.target);
});
