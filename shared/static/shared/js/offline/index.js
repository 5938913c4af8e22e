// What every page does about being away: whose device this is now, what is kept on it,
// which pages it may show with no network.

import { onDisk } from "../app.js";
import { watch } from "./bar.js";
import "./fields.js";
import "./forms.js";
import { takeUp } from "./kept.js";
import "./parts.js";
import "./photos.js";

const STORED = "person"; // who was signed in last, for the page that the worker shows
const shell = document.querySelector("[data-device-page]");

/** Pages of anybody else go, as soon as somebody signs in or out. */
async function purge(person) {
  if (!("caches" in self)) return;
  const isOther = (name) => /^pages-/.test(name) && name !== `pages-${person}`;
  const others = (await caches.keys()).filter(isOther);
  await Promise.all(others.map((name) => caches.delete(name)));
}

function remember(person) {
  onDisk((disk) => (person ? disk.setItem(STORED, person) : disk.removeItem(STORED)));
}

/** Whose page this is: with no network, whoever was signed in last. */
async function whose() {
  const named = document.body.dataset.person;
  if (named || !shell) return named ?? "";
  try {
    const answer = await fetch("/offline/token/", { cache: "no-store" });
    return answer.ok ? (await answer.json()).person : "";
  } catch {
    return onDisk((disk) => disk.getItem(STORED)) ?? "";
  }
}

/** Ask that the browser never clears what is kept; say so if it won't promise. */
async function askToKeep() {
  const place = document.querySelector("[data-offline-storage]");
  const kept = (await navigator.storage?.persisted?.()) || (await navigator.storage?.persist?.());
  if (place) place.hidden = Boolean(kept);
}

/** This page may be opened with no network, and those that it names. */
async function keepPages(isKept, also) {
  if (!("serviceWorker" in navigator)) return;
  const first = !navigator.serviceWorker.controller;
  await navigator.serviceWorker.register("/sw.js", { scope: "/" });
  const worker = (await navigator.serviceWorker.ready).active;
  if (first && isKept) worker.postMessage({ keep: location.href });
  for (const { href } of [...also].filter((link) => link.href !== location.href)) {
    if (isKept || !(await caches.match(href))) worker.postMessage({ keep: href });
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
  takeUp(person);
  if (!document.body.dataset.person) return;
  remember(person);
  await purge(person);
  const isKept = document.querySelector("[data-offline-page]");
  const also = document.querySelectorAll("a[data-offline-also]");
  if (isKept) await askToKeep();
  if (isKept || also.length) await keepPages(isKept, also).catch(() => {}); // no network: next time
}

window.addEventListener("pageshow", ({ persisted }) => {
  if (persisted) location.reload(); // what it had put down was taken up by another page
});
start();
