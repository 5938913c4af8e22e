// Parts that are made on the device, and a survey that is begun on it. What one looks like
// is in a template (data-offline-template), with tokens where its ids belong.

import { fill, refresh } from "./fields.js";
import { draftOf, keep, labelOf, person, typing } from "./kept.js";
import * as store from "./store.js";

const SAFE = /^([a-z-]+:)?[0-9a-f-]{36}$/; // what may take a token's place in markup
const PATIENCE = 1500; // ms for a survey that is begun to arrive before it goes on here
const UNMADE = '[id*="__"], [data-offline-lane*="__"], [data-offline-of*="__"]';
const find = (name, value) => document.querySelector(`[data-offline-${name}="${value}"]`);

/** Build what a template shows, with ids in the places of its tokens. */
function build(template, ids) {
  const made = document.createElement("template");
  made.innerHTML = Object.entries(ids).reduce(
    (markup, [token, id]) => markup.replaceAll(`__${token}__`, SAFE.test(id) ? id : ""),
    template.innerHTML,
  );
  return made.content;
}

/** Show a part that the page has not yet, named by the button that made it; give its first box. */
function show(lane, { of, ...values }, label = "") {
  const [kind, id] = lane.split(":");
  const template = find("template", kind);
  if (!template || ![lane, of].every((one) => SAFE.test(one)) || find("lane", lane)) return null;
  const list = document.querySelector(`[data-offline-parts="${kind}"][data-offline-of="${of}"]`);
  if (!list) return null;
  const part = build(template, { new: id, of });
  for (const box of part.querySelectorAll(`[data-offline-lane="${lane}"]`)) {
    const text = values[box.dataset.offlineField];
    if (text !== undefined) fill(box, text);
  }
  const [first, name] = ["input, select, textarea", ".part__name"].map((one) => part.querySelector(one));
  const named = label.split(" · ")[0];
  if (name && named) name.textContent = named;
  list.append(part);
  return first;
}

/** Make a part on the device: it is in the queue before anything that is typed into it. */
function add({ dataset: { offlineAdd: kind, offlineOf: of, offlineValue = "{}" }, textContent }) {
  const lane = `${kind}:${store.newKey()}`;
  const value = { of, ...JSON.parse(offlineValue) };
  const write = { op: `${kind}-new`, lane, field: "new", value: JSON.stringify(value) };
  const label = labelOf(textContent);
  keep({ ...write, said: "", label, makes: [lane] });
  show(lane, value, label)?.focus();
}

const walkOf = (survey) => `/surveys/${survey}/walk/`;
const isBegun = (survey) => (item) =>
  item.op === "survey-begin" && item.lane === `survey:${survey}`;

/** Begin a survey on the device; it goes on here until it has arrived. */
async function begin({ dataset: { offlineValue = "{}" }, textContent }) {
  const { walls: count = 4, ...known } = JSON.parse(offlineValue);
  const unknown = known.room ? [] : ["client", "site", "room"].filter((kind) => !known[kind]);
  const ids = Object.fromEntries(unknown.map((kind) => [kind, store.newKey()]));
  const walls = Array.from({ length: count }, store.newKey);
  const survey = store.newKey();
  const value = JSON.stringify({ shape: "rectangle", ...known, ...ids, walls });
  const others = Object.entries(ids).map(([kind, id]) => `${kind}:${id}`);
  const lane = `survey:${survey}`;
  const makes = [lane, ...others, ...walls.map((id) => `wall:${id}`)];
  const [page, then] = [`/surveys/begin/#${survey}`, walkOf(survey)];
  const told = { said: "", label: labelOf(textContent), makes, page, then };
  await keep({ op: "survey-begin", lane, field: "new", value, ...told });
  const latest = performance.now() + PATIENCE;
  const waits = async () => (await store.all(person())).some(isBegun(survey));
  while (navigator.onLine && (await waits()) && performance.now() < latest) {
    await new Promise((done) => setTimeout(done, 50));
  }
  location.assign((await waits()) ? page : then);
}

/** Show the survey that the address names, or go on to its own page once it has arrived. */
function showBegun(items) {
  const [survey, template] = [location.hash.slice(1), find("template", "survey")];
  if (!template || !SAFE.test(survey)) return;
  const item = items.find(isBegun(survey));
  const lane = `survey:${survey}`;
  if (!item && !typing() && !draftOf(person(), { lane, field: "new" })) {
    location.replace(walkOf(survey));
  }
  if (!item || find("lane", lane)) return;
  const lanes = item.makes.map((made) => made.split(":"));
  const walls = lanes.filter(([kind]) => kind === "wall");
  const numbered = walls.map(([kind, id], place) => [kind + (place + 1), id]);
  const made = build(template, Object.fromEntries([...lanes, ...numbered]));
  // What is left belongs to walls that this room has not, or to what was known before.
  for (const one of made.querySelectorAll(UNMADE)) (one.closest(".field") ?? one).remove();
  const corners = made.querySelectorAll("[data-offline-field=corner]");
  for (const [at, corner] of (JSON.parse(item.value).corners ?? []).entries()) {
    fill(corners[at], corner);
  }
  template.after(made);
  for (const button of document.querySelectorAll("[data-offline-begin]")) {
    (button.closest("section") ?? button).hidden = true;
  }
}

/** Show what was made on this device and is not on the page that came. */
async function showMade() {
  if (!person() || !document.querySelector("[data-offline-template]")) return;
  const items = await store.all(person());
  showBegun(items);
  for (const { field, label, lane, value } of items) {
    if (field === "new") show(lane, JSON.parse(value), label);
  }
  refresh();
}

document.addEventListener("click", ({ target }) => {
  const button = target.closest("[data-offline-add], [data-offline-begin]");
  if (!button || !person()) return;
  if (button.matches("[data-offline-add]")) add(button);
  else begin(button);
});
document.addEventListener("device:changed", showMade);
window.addEventListener("hashchange", showMade);
showMade();
