import type { clearLabels } from './clear-labels.ts'

/**
 * Keeps the labels of a drawing clear of its lines, its marks and each other: an attachment for the drawing's outermost
 * element. A layer writes its label where it would like it; this moves it to the nearest clear place, whenever the drawing
 * has changed. `data-fixed` on a group: its labels stay (axes). `data-spare`: they are left out where there is no room.
 * `data-frame`: the field that labels stay in, if not the whole drawing. `data-label` on a group: its lines of text move as one. `data-ground`: what is drawn there may be written on (grids, walls, rings, contours).
 */
export function keepLabelsClear(drawing: Element): () => void {
  let end: ReturnType<typeof clearLabels> | undefined
  let isGone = false
  // Fetched after what the reader waits for. Without it labels stand where they were written, some on lines.
  import('./clear-labels.ts').then(
    (code) =>
      whenAtRest(() => {
        if (!isGone) end = code.clearLabels(drawing)
      }),
    () => {},
  )
  return () => {
    isGone = true
    end?.()
  }
}

/** One drawing after the other, each when the page rests, within half a second: a slow phone goes on answering meanwhile. */
function whenAtRest(work: () => void): void {
  if ('requestIdleCallback' in globalThis) requestIdleCallback(work, { timeout: 500 })
  else setTimeout(work)
}
