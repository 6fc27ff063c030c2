/**
 * Calls back whenever the reader lifts a hand from a pointer, anywhere on the page: what was dragged is over.
 *
 * @returns  the function that ends it
 */
export function whenHandLifts(done: () => void): () => void {
  addEventListener('pointerup', done)
  return () => removeEventListener('pointerup', done)
}
