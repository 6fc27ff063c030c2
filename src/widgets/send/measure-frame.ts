/** How long the figures in the frame may take to wake, ms; what has not woken by then is measured as it stands. */
const patienceMs = 20_000

/**
 * How high a page of this site is in a frame, at each of several widths.
 *
 * @param frame     loaded, and in the document; its size is changed
 * @param widthsPx  widths of the frame, px, by bands
 * @param isWanted  false once nobody waits for it any more
 */
export async function frameHeightsPx(
  frame: HTMLIFrameElement,
  widthsPx: readonly (readonly number[])[],
  isWanted: () => boolean,
): Promise<number[][]> {
  const page = frame.contentDocument
  if (!page) throw new Error('The frame holds no page of this site')
  const end = Date.now() + patienceMs
  const isAtRest = () => page.querySelector('astro-island[ssr], .told.old') === null
  while (isWanted() && !isAtRest() && Date.now() < end) await nextFrame()
  await page.fonts.ready
  const heights: number[][] = []
  for (const band of widthsPx) {
    const bandHeights: number[] = []
    for (const widthPx of band) if (isWanted()) bandHeights.push(await heightPx(frame, page, widthPx))
    heights.push(bandHeights)
  }
  return heights
}

/** The least height without a bar to scroll by: a drawing may ask for part of it, so it grows until it is enough. */
async function heightPx(frame: HTMLIFrameElement, page: Document, widthPx: number): Promise<number> {
  frame.style.width = `${widthPx}px`
  let height = 0
  for (let tries = 0; tries < 12; tries++) {
    frame.style.height = `${height}px`
    // Drawings learn of their new width in one frame and take it in the next.
    for (let frames = 0; frames < 3; frames++) await nextFrame()
    const needed = page.documentElement.scrollHeight
    if (needed <= height) break
    height = needed
  }
  return height
}

const nextFrame = () => new Promise(requestAnimationFrame)
