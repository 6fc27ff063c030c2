/**
 * Attachment for a handle inside a drawing: a finger on it drags it and does not scroll the page. Chromium takes
 * `touch-action` from the whole <svg> alone, not from a part of it, and cancels the drag after its first move; refusing the
 * touch itself leaves the rest of the drawing free to scroll. Pointer events still come.
 */
export function holdTouch(handle: Element): () => void {
  const refuse = (event: Event) => event.cancelable && event.preventDefault()
  handle.addEventListener('touchstart', refuse, { passive: false })
  return () => handle.removeEventListener('touchstart', refuse)
}
