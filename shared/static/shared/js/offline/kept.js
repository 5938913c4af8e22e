// How a write gets into the queue. What is in a box goes down at once (a draft, in
// localStorage), with the key that its item will have: should the page go before the box
// is left, or before the database answers, the next page makes the item of it, once.

import { onDisk, say as message } from "../app.js";
import { parse } from "../kernel/length.js";
import { send, tell } from "./send.js";
import * as store from "./store.js";

const PAGE = store.newKey(); // this page, which holds a lock for as long as it lives
export const CANNOT = "This device can’t keep it. Write it down before you leave this page.";
let [count, keeping] = [0, 0];
navigator.locks?.request(`page-${PAGE}`, () => new Promise(() => {}));

export const person = () => document.body.dataset.person ?? "";
export const labelOf = (text) =>
  `${text.replace(/\s+/g, " ").trim()} · ${document.title.split(" · ")[0]}`;
export const typing = () => document.activeElement?.matches("[data-offline-field]");

/** Say near an element how it stands. */
export function say(element, how, words) {
  const place = element.closest(".field")?.querySelector("[data-offline-state]");
  if (!place || place.textContent === words) return;
  place.textContent = words;
  place.dataset.state = how;
}

/** Whether this is to be a length and reads as none; the box says beside it why. */
export function unreadable(text, units) {
  try {
    if (units && text.trim()) parse(text, { units });
    return false;
  } catch {
    return true;
  }
}

const nameOf = (whose, { lane, field }) => `draft ${whose} ${lane} ${field}`;

/** Give what was typed in one place and is not in the queue. */
export const draftOf = (whose, place) =>
  onDisk((disk) => JSON.parse(disk.getItem(nameOf(whose, place))));

const put = (whose, draft) =>
  onDisk((disk) => disk.setItem(nameOf(whose, draft), JSON.stringify(draft)));

/** Lift a draft, unless another one has taken its place. */
function lift(whose, draft) {
  if (draftOf(whose, draft)?.key !== draft.key) return;
  onDisk((disk) => disk.removeItem(nameOf(whose, draft)));
}

/** Give what this page has of one place and was not left yet. */
export function unleft(place) {
  const draft = draftOf(person(), place);
  return draft?.tab === PAGE && !draft.left ? draft : null;
}

/** What is in a box is what was seen there: nothing is to be taken up. */
export function forget(place) {
  const draft = unleft(place);
  if (draft) lift(person(), draft);
}

/** Put down what is in a box, or was when it was `left`, on what was seen of its field. */
export function putDown(write, seen, left = false) {
  const key = unleft(write)?.key ?? store.newKey();
  const page = location.pathname + location.hash;
  const draft = { key, page, ...write, seen, left, tab: PAGE, count: (count += 1) };
  put(person(), draft);
  return draft;
}

async function queue(whose, draft) {
  const { seen, left, tab, count: _, units, ...write } = draft;
  await store.add(whose, write, seen);
  lift(whose, draft);
  tell();
  send(whose);
}

/** Keep a write in the queue; false, and said, if that can't be done. */
export async function keep(write, seen = { version: 0, text: "" }) {
  const picture = { key: store.newKey(), page: location.pathname, seen, ...write };
  const draft = write.blob ? picture : putDown(write, seen, true);
  keeping += 1;
  try {
    await queue(person(), draft);
    return true;
  } catch {
    message(`${write.label}: ${CANNOT}`, "error");
    return false;
  } finally {
    keeping -= 1;
  }
}

/** Make items of what was typed on pages that are gone; what can't be read goes on here. */
export function takeUp(whose) {
  const tabs = new Set(draftsOf(whose).map((draft) => draft.tab));
  tabs.delete(PAGE);
  for (const tab of tabs) {
    const take = () => takeFrom(whose, tab).catch(() => {}); // the next page tries again
    navigator.locks?.request(`page-${tab}`, take) ?? take(); // granted when it is gone
  }
}

function draftsOf(whose) {
  const names = onDisk((disk) => Object.keys(disk)) ?? [];
  const theirs = names.filter((name) => name.startsWith(`draft ${whose} `));
  return theirs.map((name) => JSON.parse(localStorage.getItem(name)));
}

async function takeFrom(whose, tab) {
  const drafts = draftsOf(whose).filter((draft) => draft.tab === tab);
  for (const draft of drafts.sort((one, other) => one.count - other.count)) {
    if (unreadable(draft.value, draft.units)) put(whose, { ...draft, left: false, tab: PAGE });
    else await queue(whose, draft);
  }
  tell();
}

/** Show what waits for some elements; once it has arrived, the page as the server has it. */
export function follow(selector, isOfKind, show) {
  let before = 0;
  const look = async () => {
    const elements = [...document.querySelectorAll(selector)];
    if (!person() || !elements.length) return;
    const lanes = new Set(elements.map((one) => one.dataset.offlineLane));
    const isMine = (item) => item.state === "waiting" && lanes.has(item.lane) && isOfKind(item);
    const mine = (await store.all(person())).filter(isMine);
    if (keeping) return; // it comes round again when that is kept
    const isSaid = elements.some((one) => one.dataset.offlineUnread); // would be gone, unread
    if (before && !mine.length && !typing() && !isSaid) return location.reload();
    if (mine.length || before) show(mine, elements);
    before ||= mine.length;
  };
  document.addEventListener("device:changed", look);
  document.addEventListener("htmx:load", look);
}
