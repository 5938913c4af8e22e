// The service worker. What it knows of this version of the program (its files, and their
// version) is written above this line by the server.

const FILES = `files-${KNOWN.version}`;
const PATIENCE = 8000; // ms for a page, when there is a copy of it
const PAGES = /^pages-/;
const OWNER = "X-Offline-Page";

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("message", ({ data }) => {
  if (data?.keep) renew(data.keep);
});
self.addEventListener("fetch", (event) => {
  const { method, mode, url } = event.request;
  const { origin, pathname } = new URL(url);
  if (method !== "GET" || origin !== location.origin) return;
  if (mode === "navigate") event.respondWith(page(event.request));
  else if (pathname.startsWith(KNOWN.static)) event.respondWith(file(event.request));
});

async function install() {
  const cache = await caches.open(FILES);
  await cache.addAll(KNOWN.files.map((name) => new Request(name, { cache: "no-cache" })));
  // Without cookies: the shell is nobody's.
  const shell = await fetch(KNOWN.shell, { credentials: "omit", cache: "no-store" });
  await cache.put(KNOWN.shell, shell);
  await self.skipWaiting();
}

/** Pages that are kept ask for the files of the version that they came with. */
async function activate() {
  await self.clients.claim();
  const renewed = await Promise.all((await keptPages()).map((url) => renew(url)));
  if (!renewed.every(Boolean)) return;
  const old = (await caches.keys()).filter((name) => /^files-/.test(name) && name !== FILES);
  await Promise.all(old.map((name) => caches.delete(name)));
}

async function keptPages() {
  const names = (await caches.keys()).filter((name) => PAGES.test(name));
  const found = await Promise.all(names.map(async (name) => (await caches.open(name)).keys()));
  return found.flat().map((request) => request.url);
}

async function renew(url) {
  try {
    return await keep(url, await fetch(url, { credentials: "same-origin", cache: "no-store" }));
  } catch {
    return false;
  }
}

/** Keep a page whose answer says that it may be kept, apart for its person. */
async function keep(url, answer) {
  const owner = answer.headers.get(OWNER);
  if (!answer.ok || answer.redirected || !owner) return false;
  await (await caches.open(`pages-${owner}`)).put(url.split("#")[0], answer.clone());
  return true;
}

/** Another person's pages were purged when this one signed in: whatever is there is theirs. */
async function copyOf(url) {
  for (const name of (await caches.keys()).filter((one) => PAGES.test(one))) {
    const copy = await (await caches.open(name)).match(url.split("#")[0]);
    if (copy) return copy;
  }
}

async function page(request) {
  const copy = await copyOf(request.url);
  const fresh = fetch(request).then(async (answer) => {
    if (answer.status >= 502 && copy) return copy;
    await keep(request.url, answer);
    return answer;
  });
  const late = new Promise((done) => copy && setTimeout(done, PATIENCE, copy));
  try {
    return await Promise.race([fresh, late]);
  } catch {
    return copy ?? (await caches.open(FILES).then((cache) => cache.match(KNOWN.shell)));
  }
}

async function file(request) {
  const kept = await caches.match(request);
  if (kept && KNOWN.hashed) return kept;
  return fetch(request).catch(() => kept ?? Response.error());
}
