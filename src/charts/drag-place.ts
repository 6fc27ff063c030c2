import type { Attachment } from 'svelte/attachments'
import { holdTouch, isSideways, stillPx } from './hold-touch.ts'

/** A place in a drawing, in the coordinates of what the handle stands in, px. */
export type Spot = { x: number; y: number }

/** The place under a pointer in the coordinates of an SVG element; undefined while that is not drawn. */
export function spotUnder(event: MouseEvent, frame: Element | null): Spot | undefined {
  const matrix = (frame as SVGGraphicsElement | null)?.getScreenCTM?.()?.inverse()
  if (!matrix) return undefined
  const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix)
  return { x, y }
}

/**
 * Attachment for a handle inside an SVG drawing: while it is held, `onspot` gets each place under the pointer, in the
 * coordinates of the element that the handle stands in. With `from` (where the handle is when it is taken) the handle
 * keeps its distance from the pointer and does not jump. Whoever holds it finds `data-held` on it. A handle that moves
 * sideways only leaves a finger alone that goes down the page; one whose `touches` says no leaves all fingers alone.
 */
export function dragPlace(
  onspot: (spot: Spot) => void,
  {
    from,
    along = 'both',
    touches = () => true,
  }: { from?: (() => Spot) | undefined; along?: 'both' | 'x' | 'y'; touches?: () => boolean } = {},
): Attachment<SVGElement> {
  return (handle) => {
    const page = handle.ownerDocument
    /** The pointer that holds it. */
    let held: number | undefined
    let offset: Spot | undefined
    /** Where a finger came down that has not said yet whether it drags or passes by, px of the window. */
    let undecided: Spot | undefined
    const grab = (event: PointerEvent) => {
      const start = spotUnder(event, handle.parentElement)
      if (!start || (event.pointerType === 'touch' && !touches())) return
      const at = from?.() ?? start
      offset = { x: at.x - start.x, y: at.y - start.y }
      undecided = along === 'x' && event.pointerType === 'touch' ? { x: event.clientX, y: event.clientY } : undefined
      held = event.pointerId
      handle.setAttribute('data-held', '')
      handle.setPointerCapture(event.pointerId)
      // On the whole page: what is held stays held, even if the browser takes the capture away.
      for (const [type, listener] of whileHeld) page.addEventListener(type, listener as EventListener)
    }
    const move = (event: PointerEvent) => {
      if (event.pointerId !== held) return
      if (undecided) {
        const [across, down] = [event.clientX - undecided.x, event.clientY - undecided.y]
        if (Math.max(Math.abs(across), Math.abs(down)) < stillPx) return
        undecided = undefined
        if (!isSideways(across, down)) return release()
      }
      const spot = offset && spotUnder(event, handle.parentElement)
      if (offset && spot) onspot({ x: spot.x + offset.x, y: spot.y + offset.y })
    }
    const end = (event: PointerEvent) => {
      if (event.pointerId === held) release()
    }
    const release = () => {
      held = undefined
      for (const [type, listener] of whileHeld) page.removeEventListener(type, listener as EventListener)
      offset = undefined
      undecided = undefined
      handle.removeAttribute('data-held')
    }
    const whileHeld: [string, (event: PointerEvent) => void][] = [
      ['pointermove', move],
      ['pointerup', end],
      ['pointercancel', end],
    ]
    handle.addEventListener('pointerdown', grab as EventListener)
    const releaseTouch = holdTouch(handle, along, touches)
    return () => {
      release()
      handle.removeEventListener('pointerdown', grab as EventListener)
      releaseTouch()
    }
  }
}
