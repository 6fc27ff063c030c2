/** Where the reader's rigs are kept on the device, and the reader's halls. */
export const savedRigsKey = 'round-the-back.rigs'
export const savedHallsKey = 'round-the-back.halls'

const changed = 'kept-list-change'

/** Whether anything is kept under a key; the code that reads it is fetched only then. */
export function isAnyKept(key: string): boolean {
  try {
    return localStorage.getItem(key) !== null
  } catch {
    return false
  }
}

/** Tells this page that a kept list has changed. */
export function tellListChange(): void {
  if (typeof document !== 'undefined') document.dispatchEvent(new CustomEvent(changed))
}

/** Calls `listener` after every change of a kept list, in this page or in another one of the site; returns the function that ends it. */
export function onListChange(listener: () => void): () => void {
  const elsewhere = ({ key }: StorageEvent) => {
    if (key === null || key === savedRigsKey || key === savedHallsKey) listener()
  }
  document.addEventListener(changed, listener)
  addEventListener('storage', elsewhere)
  return () => {
    document.removeEventListener(changed, listener)
    removeEventListener('storage', elsewhere)
  }
}
