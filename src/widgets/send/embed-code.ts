/** Widths that a frame is measured at, px, in the bands between which its height may jump: a telephone, a column, a wide page. */
export const measuredWidthsPx = [
  [320, 360, 390, 430, 480],
  [481, 560, 640, 720, 800, 880, 959],
  [960, 1024, 1152, 1264, 1440],
] as const

/** Where one band ends and the next begins, px; the second is the width at which figures go beside their words (60rem). */
const bandEndsPx = [480.5, 960] as const

/** More than was measured, px: a letter that is wider on another machine makes a line more. */
const spareHeightPx = 24

/**
 * The HTML that shows a figure in another page, without a script there: the frame is as wide as its place, and as high as the
 * figure was measured to be at such a width. A browser that does not know the unit takes the height of a telephone.
 *
 * @param address    of the page for the frame, whole
 * @param title      what a screen reader calls it
 * @param heightsPx  measured at `measuredWidthsPx`, px
 */
export function embedCode(address: string, title: string, heightsPx: readonly (readonly number[])[]): string {
  const [narrow = 0, middle = 0, wide = 0] = heightsPx.map((band) => Math.ceil(Math.max(...band)) + spareHeightPx)
  const steps = [middle - wide, narrow - middle].map((morePx, index) => {
    const endPx = bandEndsPx[1 - index] ?? 0
    return morePx === 0
      ? ''
      : ` ${morePx < 0 ? '-' : '+'} clamp(0px, (${endPx}px - 100cqw) * 9999, ${Math.abs(morePx)}px)`
  })
  const height = `calc(${wide}px${steps.join('')})`
  return [
    '<div style="container-type: inline-size">',
    `<iframe src="${escaped(address)}" title="${escaped(title)}" loading="lazy" allow="autoplay" height="${narrow}" style="width: 100%; height: ${height}; border: 0"></iframe>`,
    '</div>',
  ].join('')
}

const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('"', '&quot;').replaceAll('<', '&lt;').replaceAll('>', '&gt;')
