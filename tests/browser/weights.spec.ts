// What a page may weigh when a reader opens it for the first time, until it is quiet and before anything is done; and that what is not
// near yet has not been fetched. Bytes as a server sends them, by gzip.
import { gzipSync } from 'node:zlib'
import { expect, type Page } from '@playwright/test'
import { builtPages } from './built-pages.ts'
import { nothing } from './readers.ts'
import { test } from './test.ts'

test.use({ kept: nothing, viewport: { width: 1280, height: 860 } })

/** How near a figure must come to the window before its code is fetched, px: see client-near. */
const nearPx = 300

/** The site's own files that the page's own thread has asked for, workers left out. */
async function fetched(page: Page, path: string): Promise<string[]> {
  await page.goto(path, { waitUntil: 'networkidle' })
  return page.evaluate(() =>
    [...new Set(performance.getEntriesByType('resource').map(({ name }) => new URL(name).pathname))].filter(
      (file) => !file.includes('.worker'),
    ),
  )
}

/** Weight of those of a kind, bytes. */
async function weight(page: Page, files: readonly string[], ending: string): Promise<number> {
  const bodies = files
    .filter((file) => file.endsWith(ending))
    .map(async (file) => (await page.request.get(file)).body())
  return (await Promise.all(bodies)).reduce((sum, body) => sum + gzipSync(body).length, 0)
}

/**
 * Kind of page → an example, and what its script may weigh, bytes. The first is the aim of the site; the others are what they weighed
 * when this was written, and may not grow.
 */
const budgets: Record<string, { path: string; scriptBytes: number }> = {
  'the home page': { path: '/', scriptBytes: 60_000 },
  'a page of words': { path: '/evidence/', scriptBytes: 1300 },
  'the list of lessons': { path: '/lessons/', scriptBytes: 3800 },
  'a lesson that begins with a guess': { path: '/lessons/walk-round-the-back/', scriptBytes: 45_200 },
  'a lesson with a drawing in its guess': { path: '/lessons/small-box-long-wave/', scriptBytes: 55_600 },
  'an answer with the walk-round': { path: '/answers/why-more-bass-behind/', scriptBytes: 60_000 },
  'an answer with the wall': { path: '/answers/why-did-you-move-the-speakers-at-the-wall/', scriptBytes: 80_000 },
  'an answer with the hall': { path: '/answers/why-is-our-table-boomy/', scriptBytes: 85_600 },
  'an answer with steered bass': { path: '/answers/why-are-the-subs-together/', scriptBytes: 95_300 },
  'an answer with a column': { path: '/answers/would-a-column-fix-it/', scriptBytes: 67_100 },
  'an answer with loudness': { path: '/answers/is-it-too-loud-for-our-ears/', scriptBytes: 62_900 },
  'the own box': { path: '/own-box/', scriptBytes: 85_700 },
  'the plan': { path: '/plan/', scriptBytes: 130_800 },
  'the walk with a phone': { path: '/walk/', scriptBytes: 91_200 },
  'the test with two microphones': { path: '/compare/', scriptBytes: 119_700 },
}
for (const [kind, { path, scriptBytes }] of Object.entries(budgets))
  test(`${kind} loads at most ${scriptBytes / 1000} kB of script`, async ({ page }) => {
    const files = await fetched(page, path)
    const bytes = await weight(page, files, '.js')
    expect(bytes, `${bytes} bytes: ${files.filter((file) => file.endsWith('.js')).join(' ')}`).toBeLessThanOrEqual(
      scriptBytes,
    )
  })

test('every page has one style sheet, and the two faces of its first view before its words', async ({ request }) => {
  for (const path of builtPages) {
    const html = await (await request.get(path)).text()
    expect(html.match(/<link rel="stylesheet"/g), path).toHaveLength(1)
    const preloads = [...html.matchAll(/<link rel="preload" href="([^"]+\.woff2)"/g)].map(([, file]) => file)
    expect(preloads, path).toHaveLength(2)
  }
})

test('the words of the first view come from the small faces alone', async ({ page }) => {
  for (const path of ['/', '/lessons/walk-round-the-back/', '/plan/']) {
    const files = await fetched(page, path)
    const faces = files.filter((file) => file.endsWith('.woff2'))
    expect(
      faces
        .map((file) => file.replace(/^.*\/|\..*$/g, ''))
        .filter((name) => !/^(literata(-italic)?|atkinson)$/.test(name)),
      path,
    ).toEqual([])
  }
})

test('no code of a figure is fetched before the figure is near', async ({ page }) => {
  let farAway = 0
  for (const path of builtPages.filter((address) => /^\/(lessons|answers)\/.+\//.test(address))) {
    const files = await fetched(page, path)
    const islands = await page.locator('astro-island').evaluateAll((all) =>
      all.map((island) => ({
        code: island.getAttribute('component-url') ?? '',
        isAsleep: island.hasAttribute('ssr'),
        topPx: island.firstElementChild?.checkVisibility()
          ? island.firstElementChild.getBoundingClientRect().top
          : Infinity,
      })),
    )
    const near = islands.filter(({ topPx }) => topPx < 860 + nearPx).map(({ code }) => code)
    for (const { code, isAsleep, topPx } of islands) {
      if (near.includes(code)) continue
      farAway += 1
      expect(isAsleep, `${code} on ${path}, ${topPx} px down`).toBe(true)
      expect(files, path).not.toContain(code)
    }
  }
  expect(farAway).toBeGreaterThan(9)
})
