// Forms of one yes or no (a tick) that go on with no network: data-offline-form, -op, -lane
// on the form, its field in "key" and what it asks for in "on". With a network the server
// answers as ever; without one the tick waits in the queue, and looks as if it were done.

import { follow, keep, labelOf, person } from "./kept.js";

const SELECTOR = "[data-offline-form]";
const isOf = (form, item) =>
  item.lane === form.dataset.offlineLane && item.field === form.elements.key.value;
let held = []; // lanes in which something waits: what follows waits behind it

/** Show a line as ticked or not; its form asks for the opposite from then on. */
function show(form, ticked) {
  form.querySelector("[role=checkbox]").setAttribute("aria-checked", String(ticked));
  form.elements.on.value = ticked ? "no" : "yes";
}

/** Say how much is left as the page looks now. */
function recount() {
  const left = (part) => part.querySelectorAll("[role=checkbox][aria-checked=false]").length;
  for (const place of document.querySelectorAll("[data-offline-left]")) {
    place.textContent = left(place.closest("section") ?? document);
  }
  for (const gauge of document.querySelectorAll("[data-offline-counts] progress")) {
    gauge.value = gauge.max - left(document);
    gauge.nextElementSibling.textContent = `${gauge.value} of ${gauge.max}`;
  }
}

function wait(event, form) {
  if (!person() || !form?.matches(SELECTOR)) return;
  event.preventDefault();
  event.stopImmediatePropagation();
  const { offlineLane: lane, offlineOp: op } = form.dataset;
  const value = form.elements.on.value === "yes" ? "yes" : "";
  const field = form.elements.key.value;
  held.push(lane);
  show(form, value === "yes");
  recount();
  const seen = { version: 0, text: value ? "" : "yes" };
  const said = value ? "ticked" : "not ticked";
  keep({ op, lane, field, value, said, label: labelOf(form.textContent) }, seen);
}

follow(
  SELECTOR,
  (item) => !item.blob,
  (waiting, forms) => {
    held = waiting.map((item) => item.lane);
    for (const form of forms) {
      const last = waiting.filter((item) => isOf(form, item)).at(-1);
      if (last) show(form, last.value === "yes");
    }
    recount();
  },
);

function submitted(event) {
  const lane = event.target.dataset.offlineLane;
  if (!navigator.onLine || held.includes(lane)) wait(event, event.target);
}

function unsent(event) {
  const { elt } = event.detail;
  if (!elt?.matches("a[data-offline-also]")) return wait(event, elt);
  event.stopImmediatePropagation();
  location.assign(elt.href); // it is kept here
}

window.addEventListener("submit", submitted, true);
window.addEventListener("htmx:sendError", unsent, true);
