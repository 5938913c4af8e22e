// What is kept on this device: writes that wait, each person's apart, in the order in
// which they were made; and what is known of a field beyond the page that shows it.

const SCHEMA = 2; // of an item; the server reads this one and the one before

let opened;

const result = (request) =>
  new Promise((done, failed) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });

async function open() {
  const request = indexedDB.open("cleatbook-device", 1);
  request.onupgradeneeded = () => {
    const made = request.result;
    const items = made.createObjectStore("items", { keyPath: "seq", autoIncrement: true });
    items.createIndex("person", "person");
    items.createIndex("key", "key", { unique: true });
    made.createObjectStore("seen", { keyPath: ["person", "lane", "field"] });
  };
  const whole = await result(request);
  whole.onclose = () => (opened = undefined); // the browser cleared it
  return whole;
}

/** All or nothing, and on the disk before it counts. */
async function inside(mode, work) {
  const stores = ["items", "seen"];
  const change = (await (opened ??= open())).transaction(stores, mode, { durability: "strict" });
  const ended = new Promise((done, failed) => {
    change.oncomplete = done;
    change.onabort = () => failed(change.error);
  });
  const undo = (wrong) => {
    change.abort();
    throw wrong;
  };
  const [items, seen] = stores.map((name) => change.objectStore(name));
  const [answer] = await Promise.all([work(items, seen).catch(undo), ended]);
  return answer;
}

const theirs = (items, person) => result(items.index("person").getAll(person));
const same = (one, other) => one.lane === other.lane && one.field === other.field;

/** Give a new UUID; crypto.randomUUID is for pages under TLS alone. */
export function newKey() {
  const address = URL.createObjectURL(new Blob());
  URL.revokeObjectURL(address);
  return address.slice(-36);
}

/** Give the key of the kept write that makes what this one is about, or what it is part of. */
function makerOf(kept, { lane, field, value }) {
  const of = field === "new" ? JSON.parse(value).of : lane;
  const maker = kept.find(({ makes }) => makes?.includes(lane) || makes?.includes(of));
  return maker?.key ?? null;
}

/** Keep a write: {key, op, lane, field, value, label} on what was seen: {version, text}. */
export function add(person, write, page) {
  return inside("readwrite", async (items, seen) => {
    const kept = await theirs(items, person);
    if (kept.some((item) => item.key === write.key)) return; // its page went just after this
    const known = await result(seen.get([person, write.lane, write.field]));
    const before = kept.filter((item) => same(item, write)).at(-1);
    const newest = known?.version > page.version ? known : page;
    const item = {
      ...write,
      person,
      schema: SCHEMA,
      state: "waiting",
      base: before?.base ?? newest.version,
      was: before?.was ?? newest.text,
      after: write.blob ? null : (before?.key ?? null), // pictures are added, none replaces one
      needs: makerOf(kept, write),
      made_at: new Date().toISOString(),
    };
    await result(items.add(item));
  });
}

export const all = (person) => inside("readonly", (items) => theirs(items, person));

/** Give what is kept, and what is known of fields, as of one moment. */
export const look = (person) =>
  inside("readonly", (items, seen) => {
    const known = seen.getAll(IDBKeyRange.bound([person], [person, []]));
    return Promise.all([theirs(items, person), result(known)]);
  });

function learn(seen, person, { lane, field }, { version, value }) {
  return result(seen.put({ person, lane, field, version, text: value }));
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
    const kept = await theirs(items, person);
    const settled = (one) => same(one, row) && one.state === row.state;
    for (const one of kept.filter(settled)) items.delete(one.seq);
    const { answer, seq, ...item } = row;
    if (answer.status === "conflict") {
      await learn(seen, person, row, answer);
      Object.assign(item, { base: answer.version, was: answer.value });
    }
    if (!mine) return;
    const needs = makerOf(kept.filter((one) => !settled(one)), item);
    Object.assign(item, { key: newKey(), after: null, needs, state: "waiting" });
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
