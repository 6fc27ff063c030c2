// What a device needs to know to install the site.
import type { APIRoute } from 'astro'
import { colourOf } from '../layouts/colour-of.ts'
import { icons, touchIcon } from '../layouts/icons.ts'
import * as say from '../layouts/page.messages.ts'

export const GET: APIRoute = () => {
  const paper = colourOf('paper').light
  const pictures = Object.entries(icons).filter(([name]) => name !== touchIcon)
  const manifest = {
    id: '/',
    start_url: '/',
    scope: '/',
    name: say.siteName(),
    short_name: say.siteName(),
    description: say.inOneLine(),
    lang: 'en',
    // With the keys for back and reload where a device has such windows: the course is many pages.
    display_override: ['minimal-ui', 'standalone'],
    display: 'standalone',
    background_color: paper,
    theme_color: paper,
    icons: [
      { src: '/icon.svg', type: 'image/svg+xml', sizes: 'any', purpose: 'any' },
      ...pictures.map(([name, { sizePx, purpose }]) => ({
        src: `/icons/${name}.png`,
        type: 'image/png',
        sizes: `${sizePx}x${sizePx}`,
        purpose,
      })),
    ],
  }
  return new Response(JSON.stringify(manifest), { headers: { 'Content-Type': 'application/manifest+json' } })
}
