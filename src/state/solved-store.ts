// Solved cabinets on this device, in the browser's own database, so that a second visit need not solve them again. What the
// browser refuses or loses is no loss: it is solved anew.

const databaseName = 'solved-cabinets'
const storeName = 'tables'

/** Most tables that stay; the one used longest ago goes first. One takes about a hundred kilobytes. */
const mostTables = 40

type Entry = { key: string; usedAt: number; table: unknown }

let opening: Promise<IDBDatabase | undefined> | undefined

/** A table that was kept under this key, as it was, or undefined. Never rejects. */
export async function readSolvedTable(key: string): Promise<unknown> {
  const entry = await attempt('readwrite', async (tables) => {
    const found = (await settled(tables.get(key))) as Entry | undefined
    if (found) tables.put({ ...found, usedAt: Date.now() } satisfies Entry)
    return found
  })
  return entry?.table
}

/** Keeps a table under a key. Never rejects; where there is no room or no leave, nothing is kept. */
export async function keepSolvedTable(key: string, table: unknown): Promise<void> {
  await attempt('readwrite', async (tables) => {
    tables.put({ key, usedAt: Date.now(), table } satisfies Entry)
    const excess = (await settled(tables.count())) - mostTables
    if (excess <= 0) return
    for (const oldest of await settled(tables.index('usedAt').getAllKeys(null, excess))) tables.delete(oldest)
  })
}

/** Runs some work on the tables in one transaction; undefined if the browser refuses any of it. */
async function attempt<T>(
  mode: IDBTransactionMode,
  work: (tables: IDBObjectStore) => Promise<T>,
): Promise<T | undefined> {
  try {
    const database = await open()
    if (!database) return undefined
    const transaction = database.transaction(storeName, mode)
    const ended = new Promise<void>((done, fail) => {
      transaction.oncomplete = () => done()
      transaction.onabort = () => fail(transaction.error)
    })
    const [result] = await Promise.all([work(transaction.objectStore(storeName)), ended])
    return result
  } catch {
    return undefined
  }
}

function open(): Promise<IDBDatabase | undefined> {
  opening ??= new Promise<IDBDatabase>((done, fail) => {
    const request = indexedDB.open(databaseName, 1)
    request.onupgradeneeded = () => {
      request.result.createObjectStore(storeName, { keyPath: 'key' }).createIndex('usedAt', 'usedAt')
    }
    request.onsuccess = () => {
      // Another page of the site that brings a newer database must not wait for this one.
      request.result.onversionchange = () => request.result.close()
      done(request.result)
    }
    request.onerror = () => fail(request.error)
    request.onblocked = () => fail(new Error('blocked'))
  }).catch(() => undefined)
  return opening
}

const settled = <T>(request: IDBRequest<T>): Promise<T> =>
  new Promise((done, fail) => {
    request.onsuccess = () => done(request.result)
    request.onerror = () => fail(request.error)
  })
