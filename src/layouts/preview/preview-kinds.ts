/** What the picture of a link preview may show; `preview` in a content file names one, 'behind' is taken without. */
export const previewKinds = [
  'behind',
  'beside',
  'wall',
  'hall',
  'steer',
  'lanes',
  'horn',
  'column',
  'ear',
  'box',
] as const

export type PreviewKind = (typeof previewKinds)[number]

/** Width and height of the picture, px: what programs that show link previews cut to (common practice, no source). */
export const previewSizePx = { width: 1200, height: 630 } as const

/** Where the picture of a page stands: '/answers/x/' → '/previews/answers/x.png'. */
export const previewAddress = (pathname: string): string =>
  `/previews/${pathname.replace(/^\/|\/(index\.html)?$/g, '') || 'home'}.png`
