/**
 * Photos in this browser: each under an id that the view of its work names, as a picture file in IndexedDB. They go nowhere else. Where the
 * browser's store is shut, every call says so by null or false, and the photo lasts as long as the page.
 */
const BASE = "wheelstay.photos";
const SHELF = "photos";

function open(): Promise<IDBDatabase> {
  return new Promise((done, failed) => {
    const asked = indexedDB.open(BASE, 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore(SHELF);
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => failed(asked.error);
    asked.onblocked = () => failed(new Error("blocked"));
  });
}

async function work<T>(mode: IDBTransactionMode, ask: (shelf: IDBObjectStore) => IDBRequest<T>): Promise<T> {
  const base = await open();
  try {
    return await new Promise<T>((done, failed) => {
      const pass = base.transaction(SHELF, mode);
      const asked = ask(pass.objectStore(SHELF));
      pass.oncomplete = () => done(asked.result);
      pass.onerror = () => failed(pass.error);
      pass.onabort = () => failed(pass.error);
    });
  } finally {
    base.close();
  }
}

export const keepPhoto = (id: string, photo: Blob): Promise<boolean> =>
  work("readwrite", (shelf) => shelf.put(photo, id)).then(
    () => true,
    () => false,
  );

export const keptPhoto = (id: string): Promise<Blob | null> =>
  work<unknown>("readonly", (shelf) => shelf.get(id)).then(
    (found) => (found instanceof Blob ? found : null),
    () => null,
  );

/** Removes every photo that no work in this browser names any more. */
export async function clearPhotos(isNamed: (id: string) => boolean): Promise<void> {
  try {
    for (const id of await work("readonly", (shelf) => shelf.getAllKeys())) if (!isNamed(String(id))) await work("readwrite", (shelf) => shelf.delete(id));
  } catch {
    // a shut store keeps nothing that could be removed
  }
}
