import type { Attachment } from 'svelte/attachments'
import { isSideways, stillPx } from '../../charts/hold-touch.ts'

/** Half of the slider's thumb: its middle does not reach the ends of the rail, px. */
const halfThumbPx = 11

/**
 * Attachment for the rail round a range input that itself catches no pointer (see Rail): a finger that comes down on it and
 * goes on down the page scrolls and changes nothing; one that moves along it slides at once; a tap sets the place. Mouse and
 * pen slide as usual. The input says what happens, with its own events.
 */
export const slideByFinger: Attachment<HTMLElement> = (rail) => {
  const input = rail.querySelector('input') as HTMLInputElement
  let start: { x: number; y: number } | undefined
  let isSliding = false

  const slideTo = (clientX: number) => {
    const { left, width } = input.getBoundingClientRect()
    const share = Math.min(1, Math.max(0, (clientX - left - halfThumbPx) / Math.max(1, width - 2 * halfThumbPx)))
    const [min, max] = [Number(input.min), Number(input.max)]
    const before = input.value
    // The input itself rounds to its step.
    input.value = String(min + share * (max - min))
    if (input.value !== before) input.dispatchEvent(new Event('input', { bubbles: true }))
  }
  const begin = (event: PointerEvent) => {
    isSliding = true
    rail.setPointerCapture(event.pointerId)
    slideTo(event.clientX)
  }
  const onDown = (event: PointerEvent) => {
    if (event.target === input || input.disabled || !event.isPrimary || event.button !== 0) return
    start = { x: event.clientX, y: event.clientY }
    isSliding = false
    if (event.pointerType !== 'touch') begin(event)
  }
  const onMove = (event: PointerEvent) => {
    if (!start) return
    if (isSliding) return slideTo(event.clientX)
    const [across, down] = [event.clientX - start.x, event.clientY - start.y]
    if (Math.max(Math.abs(across), Math.abs(down)) < stillPx) return
    if (isSideways(across, down)) begin(event)
    else start = undefined
  }
  const onUp = (event: PointerEvent) => {
    if (!start) return
    if (!isSliding) slideTo(event.clientX)
    start = undefined
    input.dispatchEvent(new Event('change', { bubbles: true }))
    input.focus({ preventScroll: true })
  }
  const onCancel = () => {
    start = undefined
  }
  const listeners = [
    ['pointerdown', onDown],
    ['pointermove', onMove],
    ['pointerup', onUp],
    ['pointercancel', onCancel],
  ] as const
  for (const [type, listener] of listeners) rail.addEventListener(type, listener)
  return () => {
    for (const [type, listener] of listeners) rail.removeEventListener(type, listener)
  }
}
