/**
 * Attachment for a handle inside a drawing: while it is held, it is dragged and nothing else happens.
 *
 * A finger does not scroll the page. Chromium takes `touch-action` from the whole <svg> alone, not from a part of it, and
 * cancels the drag after its first move; refusing the touch itself leaves the rest of the drawing free to scroll.
 *
 * No text is selected. WebKit begins a selection at the nearest text, which may lie anywhere on the page, so it is refused
 * for the whole document. Refusing `pointerdown` or `mousedown` would do that too, but take the focus from the handle.
 *
 * Pointer events still come.
 */
export function holdTouch(handle: Element): () => void {
  const page = handle.ownerDocument
  const refuse = (event: Event) => event.cancelable && event.preventDefault()
  const grab = () => page.addEventListener('selectstart', refuse)
  const release = () => page.removeEventListener('selectstart', refuse)
  const ends = ['pointerup', 'pointercancel', 'lostpointercapture']
  handle.addEventListener('touchstart', refuse, { passive: false })
  handle.addEventListener('pointerdown', grab)
  for (const end of ends) handle.addEventListener(end, release)
  return () => {
    release()
    handle.removeEventListener('touchstart', refuse)
    handle.removeEventListener('pointerdown', grab)
    for (const end of ends) handle.removeEventListener(end, release)
  }
}
