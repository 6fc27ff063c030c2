// Solved cabinets on this device, in the browser's own database, so that a second visit need not solve them again. What the
// browser refuses, loses or is silent about is no loss: it is solved anew.

const databaseName = 'solved-cabinets'
const storeName = 'tables'

/** Most tables that stay; the one used longest ago goes first. One takes about a hundred kilobytes. */
const mostTables = 40

/** A store that has not answered for so long, ms, counts as one that has nothing. */
const patienceMs = 5000

type Entry = { key: string; usedAt: number; table: unknown }

let opening: Promise<IDBDatabase> | undefined

/** While something that was asked for is still out beyond its time, nobody waits for the store again. */
let silent = false

/** A table that was kept under this key, as it was, or undefined. Never rejects; answers within five seconds. */
export async function readSolvedTable(key: string): Promise<unknown> {
  const entry = await attempt(async (tables) => {
    const found = (await settled(tables.get(key))) as Entry | undefined
    if (found) tables.put({ ...found, usedAt: Date.now() } satisfies Entry)
    return found
  })
  return entry?.table
}

/** Keeps a table under a key. Never rejects; where there is no room, no leave or no answer, nothing is kept. */
export async function keepSolvedTable(key: string, table: unknown): Promise<void> {
  await attempt(async (tables) => {
    tables.put({ key, usedAt: Date.now(), table } satisfies Entry)
    const excess = (await settled(tables.count())) - mostTables
    if (excess <= 0) return
    for (const oldest of await settled(tables.index('usedAt').getAllKeys(null, excess))) tables.delete(oldest)
  })
}

/** Forgets what is kept under a key: it cannot be used. Never rejects. */
export async function dropSolvedTable(key: string): Promise<void> {
  await attempt(async (tables) => void tables.delete(key))
}

/** Runs some work on the tables in one transaction; undefined if the browser refuses any of it, or is silent. */
async function attempt<T>(work: (tables: IDBObjectStore) => Promise<T>): Promise<T | undefined> {
  if (silent) return undefined
  const answer = transact(work).catch(() => undefined)
  let timer: ReturnType<typeof setTimeout> | undefined
  const limit = new Promise<undefined>((done) => {
    timer = setTimeout(() => {
      silent = true
      answer.finally(() => {
        silent = false
      })
      done(undefined)
    }, patienceMs)
  })
  return Promise.race([answer, limit]).finally(() => clearTimeout(timer))
}

async function transact<T>(work: (tables: IDBObjectStore) => Promise<T>): Promise<T> {
  const database = await open()
  const transaction = database.transaction(storeName, 'readwrite')
  const ended = new Promise<void>((done, fail) => {
    transaction.oncomplete = () => done()
    transaction.onabort = () => fail(transaction.error)
  })
  const [result] = await Promise.all([work(transaction.objectStore(storeName)), ended])
  return result
}

function open(): Promise<IDBDatabase> {
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
  })
  return opening
}

const settled = <T>(request: IDBRequest<T>): Promise<T> =>
  new Promise((done, fail) => {
    request.onsuccess = () => done(request.result)
    request.onerror = () => fail(request.error)
  })
