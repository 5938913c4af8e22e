// The page of this device: what waits, what a person has to decide, a file for emergencies.

import { send, tell } from "./send.js";
import * as store from "./store.js";

const part = (name) => document.querySelector(`[data-device-${name}]`);
const KIND = "cleatbook-device-queue";

function row(name, filled) {
  const made = part(`${name}-row`).content.firstElementChild.cloneNode(true);
  for (const [slot, text] of Object.entries(filled)) {
    const place = made.querySelector(`[data-slot="${slot}"]`);
    if (place) place.textContent = text;
  }
  return made;
}

const when = (item) => new Date(item.made_at).toLocaleString();

function waitingRow(item) {
  return row("waiting", { label: item.label, value: item.value, when: when(item) });
}

function trayRow(person, item) {
  const { sentence, value, by } = item.answer;
  const other = by ? `${value} (${by})` : value;
  const name = item.state === "conflict" ? "conflict" : "refused";
  const made = row(name, { label: item.label, value: item.value, sentence, other, when: when(item) });
  made.addEventListener("click", async ({ target }) => {
    const choice = target.closest("[data-decide]")?.dataset.decide;
    if (!choice) return;
    await store.decide(person, item, choice === "mine");
    tell();
    send(person, { now: true });
  });
  return made;
}

/** Of several conflicts about one field the last one stands for all. */
function latest(items) {
  const by = new Map(items.map((item) => [`${item.lane} ${item.field} ${item.state}`, item]));
  return [...by.values()];
}

async function show(person) {
  const items = person ? await store.all(person) : [];
  const waiting = items.filter((item) => item.state === "waiting");
  const tray = latest(items.filter((item) => item.state !== "waiting"));
  part("waiting").replaceChildren(...waiting.map(waitingRow));
  part("tray").replaceChildren(...tray.map((item) => trayRow(person, item)));
  part("tray-part").hidden = !tray.length;
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
  let saved = {};
  try {
    saved = JSON.parse(await file.text());
  } catch {
    // Said below.
  }
  const whole = saved.kind === KIND && Array.isArray(saved.items);
  if (!whole || !saved.items.every((item) => item?.key && item.lane)) {
    return "This is no file of what was kept on a device.";
  }
  if (saved.person !== person) return "This file is somebody else’s. They load it when signed in.";
  for (const item of saved.items) if (item.blob) item.blob = asBlob(item.blob);
  const taken = await store.adopt(person, saved.items);
  tell();
  send(person, { now: true });
  return taken === 1 ? "1 taken over." : `${taken} taken over.`;
}

/** Give the address and the title of each page in one cache. */
async function pagesOf(name) {
  const cache = await caches.open(name);
  const found = (await cache.keys()).map(async (request) => {
    const page = await (await cache.match(request)).text();
    const title = new DOMParser().parseFromString(page, "text/html").title;
    return { url: request.url, title: title.split(" · ")[0] };
  });
  return Promise.all(found);
}

async function showPages() {
  const names = "caches" in self ? (await caches.keys()).filter((name) => /^pages-/.test(name)) : [];
  const found = (await Promise.all(names.map(pagesOf))).flat();
  part("pages").replaceChildren(
    ...found.map(({ url, title }) => {
      const made = row("page", { title });
      made.querySelector("a").href = url;
      return made;
    }),
  );
  part("pages-part").hidden = !found.length;
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
