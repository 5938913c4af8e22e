// Photos from the camera: shrunk on the device, kept in the queue, sent one by one. The box
// has data-offline-photo (the field), -lane and -op.

import { follow, keep, labelOf, person, say } from "./kept.js";
import { tell } from "./send.js";

const SELECTOR = "[data-offline-photo]";
const LONGEST_SIDE = 2048;

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
  const refused = [];
  for (const file of [...box.files]) {
    const blob = await shrunk(file).catch(() => null);
    if (!blob) refused.push(file.name);
    else await keep({ op, lane, field, value: file.name, blob, label: labelOf("Photo") });
  }
  box.value = "";
  const unread = refused.length ? `No picture that can be read: ${refused.join(", ")}.` : "";
  box.dataset.offlineUnread = unread; // told for as long as the page stands
  if (unread) say(box, "refused", unread);
  tell(); // and how many of the others wait
}

document.addEventListener("change", ({ target }) => {
  if (target.matches?.(SELECTOR) && person()) take(target);
});
follow(
  SELECTOR,
  (item) => item.blob,
  (waiting, boxes) => {
    for (const box of boxes) {
      const count = waiting.filter((item) => item.lane === box.dataset.offlineLane).length;
      const words = count ? `${count} ${count === 1 ? "photo" : "photos"} on this device` : "";
      const { offlineUnread: unread = "" } = box.dataset;
      say(box, unread ? "refused" : "waiting", `${unread} ${words}`.trim());
    }
  },
);
