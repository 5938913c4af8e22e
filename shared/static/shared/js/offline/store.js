// What is kept on this device: writes that wait, each person's apart, in the order in
// which they were made; and what is known of a field beyond the page that shows it.

const SCHEMA = 1; // of an item; the server reads this one and the one before

let opened;

function database() {
  opened ??= new Promise((done, failed) => {
    const request = indexedDB.open("cleatbook-device", 1);
    request.onupgradeneeded = () => {
      const items = request.result.createObjectStore("items", {
        keyPath: "seq",
        autoIncrement: true,
      });
      items.createIndex("person", "person");
      items.createIndex("key", "key", { unique: true });
      request.result.createObjectStore("seen", { keyPath: ["person", "lane", "field"] });
    };
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });
  return opened;
}

const result = (request) =>
  new Promise((done, failed) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });

/** All or nothing, and on the disk before it counts. */
async function inside(mode, work) {
  const change = (await database()).transaction(["items", "seen"], mode, {
    durability: "strict",
  });
  const ended = new Promise((done, failed) => {
    change.oncomplete = done;
    change.onabort = () => failed(change.error);
  });
  const [items, seen] = [change.objectStore("items"), change.objectStore("seen")];
  try {
    const answer = await work(items, seen);
    await ended;
    return answer;
  } catch (wrong) {
    ended.catch(() => {});
    try {
      change.abort();
    } catch {
      // It had ended by itself.
    }
    throw wrong;
  }
}

const theirs = (items, person) => result(items.index("person").getAll(person));
const same = (one, other) => one.lane === other.lane && one.field === other.field;

function newKey() {
  if (crypto.randomUUID) return crypto.randomUUID();
  const hex = [...crypto.getRandomValues(new Uint8Array(16))].map((byte, place) => {
    const fixed = { 6: (byte & 15) | 64, 8: (byte & 63) | 128 }[place] ?? byte;
    return fixed.toString(16).padStart(2, "0");
  });
  return hex.join("").replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
}

/** Keep a write: {op, lane, field, value, label} on what was seen: {version, text}. */
export function add(person, write, page) {
  return inside("readwrite", async (items, seen) => {
    const known = await result(seen.get([person, write.lane, write.field]));
    const before = (await theirs(items, person)).filter((item) => same(item, write)).at(-1);
    const newer = known?.version > page.version;
    const item = {
      ...write,
      person,
      key: newKey(),
      schema: SCHEMA,
      state: "waiting",
      base: before?.base ?? (newer ? known.version : page.version),
      was: before?.was ?? (newer ? known.text : page.text),
      after: write.blob ? null : (before?.key ?? null), // pictures are added, none replaces one
      made_at: new Date().toISOString(),
    };
    if (known) seen.put({ ...known, draft: undefined });
    await result(items.add(item));
  });
}

export const all = (person) => inside("readonly", (items) => theirs(items, person));

export const known = (person, lane, field) =>
  inside("readonly", (_, seen) => result(seen.get([person, lane, field])));

/** What is being typed and was not left yet, on what was seen; undefined: nothing. */
export const draft = (person, lane, field, typed) =>
  inside("readwrite", async (_, seen) => {
    const row = await result(seen.get([person, lane, field]));
    if (row || typed) seen.put({ person, lane, field, version: -1, ...row, draft: typed });
  });

function learn(seen, person, item, answer) {
  return result(seen.get([person, item.lane, item.field])).then((row) => {
    const news = { version: answer.version, text: answer.value };
    seen.put({ ...row, person, lane: item.lane, field: item.field, ...news });
  });
}

/** Apply the server's answers: only an item whose key is echoed is done with. */
export function settle(person, answers) {
  return inside("readwrite", async (items, seen) => {
    const kept = await theirs(items, person);
    for (const answer of answers) {
      const item = kept.find((one) => one.key === answer.key);
      if (!item) continue;
      if (answer.status === "stored" || answer.status === "repeat") {
        await learn(seen, person, item, answer);
        const over = (one) => one.state === "refused" && same(one, item) && one.seq < item.seq;
        for (const old of [item, ...kept.filter(over)]) items.delete(old.seq);
      } else if (answer.status === "refused" || answer.status === "conflict") {
        items.put({ ...item, state: answer.status, answer });
      }
    }
  });
}

/** A person decided: `mine` is sent anew, on top of what is stored; else theirs stands. */
export function decide(person, row, mine) {
  return inside("readwrite", async (items, seen) => {
    const group = (await theirs(items, person)).filter(
      (one) => same(one, row) && one.state === row.state,
    );
    for (const one of group) items.delete(one.seq);
    const { answer, seq, ...item } = row;
    if (answer.status === "conflict") {
      await learn(seen, person, row, answer);
      Object.assign(item, { base: answer.version, was: answer.value });
    }
    if (!mine) return;
    Object.assign(item, { key: newKey(), after: null, state: "waiting" });
    await result(items.add(item));
  });
}

/** Take over items from a file; those that are here already stay as they are. */
export function adopt(person, loaded) {
  return inside("readwrite", async (items) => {
    let taken = 0;
    for (const { seq, ...item } of loaded) {
      if (await result(items.index("key").count(item.key))) continue;
      await result(items.add({ ...item, person }));
      taken += 1;
    }
    return taken;
  });
}
