// The page of this device: what waits, what a person has to decide, a file for emergencies.

import { send, tell } from "./send.js";
import * as store from "./store.js";

const part = (name) => document.querySelector(`[data-device-${name}]`);
const KIND = "cleatbook-device-queue";
const TIME = { dateStyle: "medium", timeStyle: "short" };

function row(name, filled, link) {
  const made = part(`${name}-row`).content.firstElementChild.cloneNode(true);
  for (const place of made.querySelectorAll("[data-slot]")) {
    place.textContent = filled[place.dataset.slot];
  }
  if (/^\/[^/]/.test(link)) made.querySelector("a").href = link;
  return made;
}

/** Say what was typed, and when by this device's clock. */
function typed({ value, said, made_at }) {
  const words = said ?? (value ? `“${value}”` : "emptied");
  const when = new Date(made_at).toLocaleString(document.documentElement.lang, TIME);
  return words ? `${words}, ${when}` : when;
}

const waitingRow = (item) =>
  row("waiting", { label: item.label, typed: typed(item) }, item.page);

function trayRow(person, item) {
  const { sentence, value, by } = item.answer;
  const other = `“${value}”${by ? `, ${by}` : ""}`;
  const name = item.state === "conflict" ? "conflict" : "refused";
  const made = row(name, { label: item.label, typed: typed(item), sentence, other }, item.page);
  made.addEventListener("click", async ({ target }) => {
    const choice = target.closest("[data-decide]")?.dataset.decide;
    if (!choice) return;
    await store.decide(person, item, choice === "mine");
    tell();
    send(person, { now: true });
  });
  return made;
}

async function show(person) {
  const items = person ? await store.all(person) : [];
  const waiting = items.filter((item) => item.state === "waiting");
  const others = items.filter((item) => item.state !== "waiting");
  // Of several conflicts about one field the last one stands for all.
  const tray = new Map(others.map((item) => [`${item.lane} ${item.field} ${item.state}`, item]));
  part("waiting").replaceChildren(...waiting.map(waitingRow));
  part("tray").replaceChildren(...[...tray.values()].map((item) => trayRow(person, item)));
  part("tray-part").hidden = !tray.size;
  part("nothing").hidden = Boolean(waiting.length);
  part("save").disabled = !items.length;
}

const asText = (blob) =>
  new Promise((done) => {
    const reader = new FileReader();
    reader.onload = () => done(reader.result.split(",")[1]);
    reader.readAsDataURL(blob);
  });

const asBlob = (text) =>
  new Blob([Uint8Array.from(atob(text), (one) => one.charCodeAt(0))], { type: "image/jpeg" });

/** Give all that is kept as a file. */
async function save(person) {
  const items = await store.all(person);
  for (const item of items) if (item.blob) item.blob = await asText(item.blob);
  const text = JSON.stringify({ kind: KIND, person, items }, null, 1);
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  link.download = `kept-on-this-device-${new Date().toISOString().slice(0, 10)}.json`;
  link.click();
  URL.revokeObjectURL(link.href);
}

async function load(person, file) {
  const saved = await new Response(file).json().catch(() => ({}));
  const whole = saved.kind === KIND && Array.isArray(saved.items);
  if (!whole || !saved.items.every((item) => item?.key && item.lane)) {
    return "This is no file of what was kept on a device.";
  }
  if (saved.person !== person) return "This file is somebody else’s. They load it when signed in.";
  for (const item of saved.items) if (item.blob) item.blob = asBlob(item.blob);
  const taken = await store.adopt(person, saved.items);
  tell();
  send(person, { now: true });
  return `${taken} taken over.`;
}

/** Give a link to each page in one cache, by its title. */
async function pagesOf(name) {
  const cache = await caches.open(name);
  const rows = (await cache.keys()).map(async (request) => {
    const page = await (await cache.match(request)).text();
    const title = new DOMParser().parseFromString(page, "text/html").title.split(" · ")[0];
    const { pathname, search } = new URL(request.url);
    return row("page", { title }, pathname + search);
  });
  return Promise.all(rows);
}

async function showPages() {
  const all = "caches" in self ? await caches.keys() : [];
  const names = all.filter((name) => /^pages-/.test(name));
  const rows = (await Promise.all(names.map(pagesOf))).flat();
  part("pages").replaceChildren(...rows);
  part("pages-part").hidden = !rows.length;
}

/** Fill the page in for one person, who may be nobody. */
export function showDevice(person) {
  const refresh = () => show(person);
  document.addEventListener("device:changed", refresh);
  part("save").addEventListener("click", () => save(person));
  part("load").disabled = !person;
  part("load").addEventListener("change", async ({ target }) => {
    part("loaded").textContent = target.files[0] ? await load(person, target.files[0]) : "";
    target.value = "";
  });
  if (person) showPages();
  return refresh();
}
