// The site's icon as the pictures that devices ask for, made at build out of static/icon.svg.

/**
 * Name → size in px, and how much paper stands round the drawing, as a share of its width. A maskable one may be cut to a circle of
 * 80 % of its width (W3C Web Application Manifest, icon masks), in which all of the drawing must lie.
 */
export const icons = {
  'icon-192': { sizePx: 192, paper: 0, purpose: 'any' },
  'icon-512': { sizePx: 512, paper: 0, purpose: 'any' },
  'maskable-512': { sizePx: 512, paper: 0.22, purpose: 'maskable' },
  'touch-180': { sizePx: 180, paper: 0.08, purpose: 'any' },
} as const
export type IconName = keyof typeof icons
/** What a phone puts on its screen that asks for a link in the page. */
export const touchIcon: IconName = 'touch-180'
