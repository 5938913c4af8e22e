// Says on the walk what the readings come to as far as they are typed: whether the walls
// close, what fits an opening, what to read before leaving. Words and rules are the server's;
// [data-plan-told] carries them.

import { show } from "./kernel/length.js";
import { person, unleft } from "./offline/kept.js";
import { all as keptBy } from "./offline/store.js";

// The page is usable without the rest, which is asked for once it is. Where it is not to be had, or the page
// is left meanwhile, nothing is told.
if (document.readyState === "loading") await new Promise((done) => document.addEventListener("DOMContentLoaded", done));
const { leaving, openingTold, planTold, walked } = await import("./kernel/leave.js").catch(() => new Promise(() => {}));

const NS = "http://www.w3.org/2000/svg";
const all = (selector) => [...document.querySelectorAll(selector)];
let [photos, hasNews] = [[], false]; // what waits on this device, or is typed and not left

/** What stands in the boxes, record by record in the order of the page. */
function records() {
  const found = new Map(photos.map(({ key }) => [key, { lane: `photo:${key}` }]));
  for (const box of all("[data-offline-field]")) {
    const { offlineLane: lane, offlineField: field } = box.dataset;
    if (!found.has(lane)) found.set(lane, { lane, of: box.closest("[data-offline-parts]")?.dataset.offlineOf });
    const isThere = field === "preset" && box.selectedOptions[0]?.defaultSelected; // in the finishes below
    const text = box.type === "checkbox" ? (box.checked ? "yes" : "") : box.value;
    found.get(lane)[field] = isThere ? "" : text;
  }
  return [...found.values()];
}

/** Say it all beside the boxes, and before leaving, unless the server's own word stands there. */
function tell(isNews = false) {
  const place = document.querySelector("[data-plan-told]");
  if (!place) return;
  const shop = JSON.parse(place.dataset.planTold);
  const shown = (length) => show(length, shop);
  const room = walked(records(), shop);
  const walls = room.walls.map(({ known: length, ...wall }) => ({ ...wall, length }));
  place.textContent = planTold(walls, shop.words, shown).sentences.join(" ");
  const openings = new Map(walls.flatMap((wall) => wall.openings.map((one) => [one.lane, one])));
  for (const one of all("[data-opening-told]")) {
    const { label: name, isRead, gets_panel: getsPanel, ...read } = openings.get(one.dataset.openingTold) ?? {};
    const asked = { ...read, name, getsPanel, clearance: shop.clearance };
    one.textContent = isRead ? openingTold(asked, shop.words, shown).sentences.join(" ") : "";
  }
  const leave = document.getElementById("leave");
  if (!leave || !(isNews || "live" in leave.dataset)) return;
  leave.dataset.live = ""; // the same element, into which an answer on its way goes
  leave.replaceChildren(...filled(leaving(room, shop)).childNodes);
}

const line = (textContent) => Object.assign(document.createElement("li"), { textContent });

/** The list before leaving as the server lays it out, with what was found here. */
function filled(found) {
  const made = document.querySelector("[data-leave-live]").content.firstElementChild.cloneNode(true);
  const part = (name) => made.querySelector(`[data-leave=${name}]`);
  for (const name of ["told", "missing", "later"]) part(name).append(...found[name].map(line));
  const caution = part("cautions").content.firstElementChild;
  for (const words of found.cautions) {
    const one = caution.cloneNode(true);
    one.querySelectorAll("p").forEach((place, n) => (place.textContent = words[n]));
    part("cautions").before(one);
  }
  if (found.sketch) part("sketch").replaceChildren(drawn(found.sketch));
  for (const [n, name] of ["floor", "rough", "how"].entries()) part(name).textContent = [found.floor, ...(found.ballpark ?? [])][n];
  const isThere = { later: found.later.length, floor: found.floor, rough: found.ballpark };
  isThere.nothing = !found.told.length && !found.missing.length && !found.later.length;
  for (const one of made.querySelectorAll("[data-leave-if]")) one.hidden = !isThere[one.dataset.leaveIf];
  return made;
}

function drawn({ box, ring, names, openings }) {
  const shape = (name, attributes, text = "") => {
    const made = document.createElementNS(NS, name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    made.textContent = text;
    return made;
  };
  const pen = { fill: "none", stroke: "currentColor", "stroke-width": 3, "stroke-linejoin": "round" };
  const [width, height] = box;
  const sketch = shape("svg", { width, height, viewBox: `0 0 ${width} ${height}`, role: "img", "aria-label": "Sketch of the plan" });
  const gaps = openings.map(([x1, y1, x2, y2]) => shape("line", { ...pen, x1, y1, x2, y2, "stroke-width": 9 }));
  const middle = { fill: "currentColor", "font-size": 14, "text-anchor": "middle", "dominant-baseline": "middle" };
  const labels = names.map(([name, x, y]) => shape("text", { ...middle, x, y }, name));
  sketch.append(shape("polyline", { ...pen, points: ring.join(" ") }), ...gaps, ...labels);
  return sketch;
}

/** What is not sent yet is told from here; else the server is asked for its word, if it is looked at. */
async function look() {
  const lanes = new Set(records().map(({ lane }) => lane));
  const kept = person() ? await keptBy(person()) : [];
  const mine = kept.filter(({ state, lane }) => state === "waiting" && lanes.has(lane));
  photos = mine.filter(({ blob }) => blob);
  const { offlineLane: lane, offlineField: field } = document.activeElement?.dataset ?? {};
  hasNews = Boolean(mine.length || (field && unleft({ lane, field })));
  tell(hasNews);
  const asks = document.querySelector("[hx-get]:has(> #leave[data-live])");
  const { top, bottom } = asks?.getBoundingClientRect() ?? {};
  if (!hasNews && top < innerHeight && bottom > 0) htmx.trigger(asks, "arrived");
}

for (const event of ["input", "change"]) {
  document.addEventListener(event, ({ target }) => tell((hasNews ||= Boolean(target.dataset?.offlineField))));
}
// An answer asked for before all has arrived might come after that, and stay.
document.addEventListener("htmx:beforeRequest", (event) => hasNews && event.target.id === "before" && event.preventDefault());
document.addEventListener("device:shown", look);
look();
