/** Where the reader's rigs are kept on the device. */
export const savedRigsKey = 'round-the-back.rigs'
const changed = 'saved-rigs-change'

/** Whether anything is kept; the code that reads it is fetched only then. */
export function hasSavedRigs(): boolean {
  try {
    return localStorage.getItem(savedRigsKey) !== null
  } catch {
    return false
  }
}

/** Tells this page that the kept rigs have changed. */
export function tellSavedRigsChange(): void {
  if (typeof document !== 'undefined') document.dispatchEvent(new CustomEvent(changed))
}

/** Calls `listener` after every change, in this page or in another one of the site; returns the function that ends it. */
export function onSavedRigsChange(listener: () => void): () => void {
  const elsewhere = ({ key }: StorageEvent) => {
    if (key === null || key === savedRigsKey) listener()
  }
  document.addEventListener(changed, listener)
  addEventListener('storage', elsewhere)
  return () => {
    document.removeEventListener(changed, listener)
    removeEventListener('storage', elsewhere)
  }
}
