"use strict";
// What was answered stays on this device until the workbench has it. IndexedDB works on a plain
// network address too, where service workers do not.

const OUTBOX = "light-check-outbox";

function openOutbox() {
  return new Promise((resolve) => {
    if (!window.indexedDB) {
      resolve(null);
      return;
    }
    const request = indexedDB.open("loomwright", 1);
    request.onupgradeneeded = () => request.result.createObjectStore(OUTBOX, { keyPath: "id", autoIncrement: true });
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => resolve(null);
  });
}

const opened = openOutbox();
const inMemory = [];

async function inOutbox(mode, act) {
  const base = await opened;
  return new Promise((resolve, reject) => {
    const change = base.transaction(OUTBOX, mode);
    const request = act(change.objectStore(OUTBOX));
    change.oncomplete = () => resolve(request.result);
    change.onerror = () => reject(change.error);
  });
}

const outbox = {
  async add(item) {
    if (await opened) return inOutbox("readwrite", (store) => store.add(item));
    inMemory.push({ ...item, id: inMemory.length + 1 });
    return inMemory.length;
  },
  async all() {
    if (await opened) return inOutbox("readonly", (store) => store.getAll());
    return [...inMemory];
  },
  async change(item) {
    if (await opened) return inOutbox("readwrite", (store) => store.put(item));
    return undefined;
  },
  async remove(id) {
    if (await opened) return inOutbox("readwrite", (store) => store.delete(id));
    return inMemory.splice(inMemory.findIndex((item) => item.id === id), 1);
  },
};

// A mark nobody else gives; crypto.randomUUID is missing on a plain network address.
function newMark() {
  return [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
