// What every page does about being away: whose device this is now, what is kept on it,
// which pages it may show with no network.

import { watch } from "./bar.js";
import "./fields.js";
import "./forms.js";
import "./photos.js";

const STORED = "person"; // who was signed in last, for the page that the worker shows
const shell = document.querySelector("[data-device-page]");

/** Pages of anybody else go, as soon as somebody signs in or out. */
async function purge(person) {
  if (!("caches" in self)) return;
  const others = (await caches.keys()).filter((name) => /^pages-/.test(name) && name !== `pages-${person}`);
  await Promise.all(others.map((name) => caches.delete(name)));
}

function remember(person) {
  try {
    if (person) localStorage.setItem(STORED, person);
    else localStorage.removeItem(STORED);
  } catch {
    // Then the page of this device is empty while there is no network; what is kept stays.
  }
}

/** Whose page this is: with no network, whoever was signed in last. */
async function whose() {
  const named = document.body.dataset.person;
  if (named || !shell) return named ?? "";
  try {
    const answer = await fetch("/offline/token/", { cache: "no-store" });
    return answer.ok ? (await answer.json()).person : "";
  } catch {
    return localStorage.getItem(STORED) ?? "";
  }
}

/** Ask that the browser never clears what is kept; say so if it won't promise. */
async function askToKeep() {
  const place = document.querySelector("[data-offline-storage]");
  const kept = (await navigator.storage?.persisted?.()) || (await navigator.storage?.persist?.());
  if (place) place.hidden = Boolean(kept);
}

/** This page may be opened with no network, and those that it names. */
async function keepPage() {
  if (!("serviceWorker" in navigator)) return;
  const first = !navigator.serviceWorker.controller;
  await navigator.serviceWorker.register("/sw.js", { scope: "/" });
  const worker = (await navigator.serviceWorker.ready).active;
  if (first) worker.postMessage({ keep: location.href });
  for (const link of document.querySelectorAll("a[data-offline-also]")) {
    worker.postMessage({ keep: link.href });
  }
}

async function start() {
  const person = await whose();
  if (document.querySelector("[data-signed-out]")) {
    remember("");
    await purge("");
  }
  if (shell) (await import("./device.js")).showDevice(person);
  if (!person) return;
  watch(person);
  if (!document.body.dataset.person) return;
  remember(person);
  await purge(person);
  if (!document.querySelector("[data-offline-page]")) return;
  await askToKeep();
  await keepPage().catch(() => {}); // no network just now: the next time, then
}

start();
