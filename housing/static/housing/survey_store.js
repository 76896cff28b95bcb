// What the device keeps: entries until the server has them, and each place as it was known last.

const NAME = "survey";
let opened = null;

function open() {
  opened ??= new Promise((resolve, reject) => {
    const asked = indexedDB.open(NAME, 1);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore("entries", { keyPath: "entry_id" });
      asked.result.createObjectStore("places", { keyPath: "place" });
    };
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
  return opened;
}

// Runs one request in a transaction of its own; resolves when what it did is on the disk.
async function inStore(name, mode, request) {
  const database = await open();
  return new Promise((resolve, reject) => {
    const transaction = database.transaction(name, mode, { durability: "strict" });
    const asked = request(transaction.objectStore(name));
    transaction.oncomplete = () => resolve(asked.result);
    transaction.onabort = () => reject(transaction.error);
    transaction.onerror = () => reject(transaction.error);
  });
}

// Whether this browser can keep entries at all.
export async function canKeep() {
  try {
    await open();
    return true;
  } catch {
    return false;
  }
}

// Every entry that the server has not confirmed, in the order they were made.
export async function entries() {
  const all = await inStore("entries", "readonly", (store) => store.getAll());
  return all.sort((a, b) => a.made_at.localeCompare(b.made_at));
}

export const keepEntry = (entry) => inStore("entries", "readwrite", (store) => store.put(entry));
export const dropEntry = (id) => inStore("entries", "readwrite", (store) => store.delete(id));
export const keepPlace = (place) => inStore("places", "readwrite", (store) => store.put(place));
export const placeAsKept = (place) => inStore("places", "readonly", (store) => store.get(place));

// A number for an entry that no other device makes; also where the page is not served over https.
export function newId() {
  if (crypto.randomUUID) return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const digits = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [digits.slice(0, 8), digits.slice(8, 12), digits.slice(12, 16), digits.slice(16, 20), digits.slice(20)].join("-");
}
