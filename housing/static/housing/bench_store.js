// Entries of the bench on the device, until the server has said what became of each.

const NAME = "bench";
let opened = null;

function open() {
  opened ??= new Promise((resolve, reject) => {
    const asked = indexedDB.open(NAME, 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore("entries", { keyPath: "order", autoIncrement: true });
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
  return opened;
}

// Runs one request in a transaction of its own; resolves when what it did is on the disk.
async function inStore(mode, request) {
  const database = await open();
  return new Promise((resolve, reject) => {
    const transaction = database.transaction("entries", mode, { durability: "strict" });
    const asked = request(transaction.objectStore("entries"));
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

// All that is kept, in the order it was entered.
export const entries = () => inStore("readonly", (store) => store.getAll());
// Keeps an entry; one that has an order already takes its own place again.
export const keepEntry = (entry) => inStore("readwrite", (store) => store.put(entry));
export const dropEntry = (order) => inStore("readwrite", (store) => store.delete(order));
