/**
 * Attachment for a handle inside a drawing: while it is held, it is dragged and nothing else happens.
 *
 * A finger does not scroll the page. Chromium takes `touch-action` from the whole <svg> alone, not from a part of it, and
 * cancels the drag after its first move; refusing the touch itself leaves the rest of the drawing free to scroll. A handle
 * that moves sideways only is as high as its chart, and a finger that goes on down the page over it scrolls: there the touch
 * is refused when it moves sideways first.
 *
 * No text is selected. WebKit begins a selection at the nearest text, which may lie anywhere on the page, so it is refused
 * for the whole document. Refusing `pointerdown` or `mousedown` would do that too, but take the focus from the handle.
 *
 * No picture is dragged away: the still that lies under a drawing until the live one is there would take the pointer.
 *
 * Pointer events still come. A handle whose `touches` says no leaves fingers to the page.
 */
export function holdTouch(
  handle: Element,
  along: 'both' | 'x' | 'y' = 'both',
  touches: () => boolean = () => true,
): () => void {
  const page = handle.ownerDocument
  const refuse = (event: Event) => event.cancelable && event.preventDefault()
  const others = ['selectstart', 'dragstart']
  const grab = () => {
    for (const type of others) page.addEventListener(type, refuse)
  }
  const release = () => {
    for (const type of others) page.removeEventListener(type, refuse)
  }
  let start: Touch | undefined
  const begin = (event: TouchEvent) => {
    if (along === 'x') start = event.touches[0]
    else if (touches()) refuse(event)
  }
  const turn = (event: TouchEvent) => {
    const [from, to] = [start, event.touches[0]]
    if (from && to && isSideways(to.clientX - from.clientX, to.clientY - from.clientY)) refuse(event)
  }
  const ends = ['pointerup', 'pointercancel', 'lostpointercapture']
  handle.addEventListener('touchstart', begin as EventListener, { passive: false })
  handle.addEventListener('touchmove', turn as EventListener, { passive: false })
  handle.addEventListener('pointerdown', grab)
  for (const end of ends) handle.addEventListener(end, release)
  return () => {
    release()
    handle.removeEventListener('touchstart', begin as EventListener)
    handle.removeEventListener('touchmove', turn as EventListener)
    handle.removeEventListener('pointerdown', grab)
    for (const end of ends) handle.removeEventListener(end, release)
  }
}

/** Whether a finger goes along rather than down the page. */
export const isSideways = (acrossPx: number, downPx: number): boolean => Math.abs(acrossPx) > Math.abs(downPx)

/** A finger that has moved less has not said yet what it wants, px. */
export const stillPx = 6
