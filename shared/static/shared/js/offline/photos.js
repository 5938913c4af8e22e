// Photos from the camera: shrunk on the device, kept in the queue, sent one by one. The box
// has data-offline-photo (the field), -lane and -op.

import { send, tell } from "./send.js";
import * as store from "./store.js";

const SELECTOR = "[data-offline-photo]";
const LONGEST_SIDE = 2048;
const person = () => document.body.dataset.person;

/** A canvas keeps the points alone: where and when it was taken stays out. */
async function shrunk(file) {
  const picture = await createImageBitmap(file);
  const scale = Math.min(1, LONGEST_SIDE / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(picture.width * scale);
  canvas.height = Math.round(picture.height * scale);
  canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
  return new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.85));
}

async function take(box) {
  const { offlinePhoto: field, offlineLane: lane, offlineOp: op } = box.dataset;
  const place = box.closest(".field").querySelector("[data-offline-state]");
  const refused = [];
  for (const file of [...box.files]) {
    const blob = await shrunk(file).catch(() => null);
    if (!blob) refused.push(file.name);
    else {
      const write = { op, lane, field, value: file.name, blob, label: `Photo · ${document.title}` };
      await store.add(person(), write, { version: 0, text: "" });
    }
  }
  box.value = "";
  place.dataset.state = refused.length ? "refused" : "waiting";
  place.textContent = refused.length ? `No picture that can be read: ${refused.join(", ")}.` : "";
  tell();
  send(person());
}

let waited = 0;

/** Say how many wait; when all have arrived, show the page as the server has it. */
async function refresh() {
  if (!person() || !document.querySelector(SELECTOR)) return;
  const items = await store.all(person());
  const waiting = items.filter((item) => item.blob && item.state === "waiting").length;
  if (waited && !waiting) return location.reload();
  waited = waiting;
  const place = document.querySelector(SELECTOR).closest(".field").querySelector("[data-offline-state]");
  if (waiting) place.textContent = waiting === 1 ? "1 photo on this device" : `${waiting} photos on this device`;
}

document.addEventListener("change", ({ target }) => {
  if (target.matches?.(SELECTOR) && person()) take(target);
});
document.addEventListener("device:changed", refresh);
