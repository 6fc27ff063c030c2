// Two tabs that change one thing on the device at the same moment must not undo one another's change.

/** Longest wait for a turn, and for another tab's change to arrive, ms: who waits longer goes on without. */
const patienceMs = 5000

/** How long a tab still tells that it was the last to change something, ms; a change reaches the others in a hundredth of it. */
const toldMs = 10_000

/**
 * Runs a change of the device's local storage when no other tab of the site is at the same, and with everything in view that
 * the others have changed before. Where the browser has no locks, or is silent, it runs at once.
 *
 * A lock alone is not enough: what one tab writes reaches the other a moment later, and the turn may come sooner. So each
 * change has a number, kept beside the thing; a tab tells the number of its last change by holding a lock of that name, and
 * whoever is next waits until that number is in the storage that it sees.
 *
 * @param name  the key of the thing in the local storage
 * @param work  reads, changes and writes, without waiting in between
 * @returns     what the work returns; rejects with what it throws
 */
export async function inTurn<T>(name: string, work: () => T): Promise<T> {
  const locks = typeof navigator === 'undefined' ? undefined : navigator.locks
  if (!locks) return work()
  let begun = false
  const patience = new AbortController()
  const timer = setTimeout(() => patience.abort(), patienceMs)
  const turn = async (): Promise<T> => {
    const newest = await newestTold(locks, name)
    await until(() => numberSeen(name) >= newest)
    begun = true
    const result = work()
    await tell(locks, name, Math.max(newest, numberSeen(name)) + 1)
    return result
  }
  try {
    return await locks.request(name, { signal: patience.signal }, turn)
  } catch (error) {
    // No turn was given, in time or at all: better a small risk than a change that is lost for certain.
    if (!begun) return work()
    throw error
  } finally {
    clearTimeout(timer)
  }
}

const numberKey = (name: string): string => `${name}.changes`

function numberSeen(name: string): number {
  try {
    return Number(localStorage.getItem(numberKey(name))) || 0
  } catch {
    return Number.POSITIVE_INFINITY
  }
}

/** The highest number that any tab tells now. */
async function newestTold(locks: LockManager, name: string): Promise<number> {
  const prefix = `${numberKey(name)} `
  const { held = [] } = await locks.query()
  const numbers = held.flatMap((lock) => (lock.name?.startsWith(prefix) ? Number(lock.name.slice(prefix.length)) : []))
  return Math.max(0, ...numbers)
}

/** Writes the number of a change and tells it for a while. */
async function tell(locks: LockManager, name: string, number: number): Promise<void> {
  try {
    localStorage.setItem(numberKey(name), String(number))
  } catch {
    // No room: nothing was changed either.
    return
  }
  await new Promise<void>((told) => {
    const holding = () => {
      told()
      return new Promise((done) => setTimeout(done, toldMs))
    }
    locks.request(`${numberKey(name)} ${number}`, holding).catch(() => told())
  })
}

/** Waits until a condition holds, but not beyond patience. */
async function until(condition: () => boolean): Promise<void> {
  const end = Date.now() + patienceMs
  while (!condition() && Date.now() < end) await new Promise((done) => setTimeout(done, 5))
}
