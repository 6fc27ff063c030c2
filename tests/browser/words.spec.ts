import { expect, type Page, test } from '@playwright/test'

/** Pages of words; every one is reached from these by a link as well, which the last test walks. */
const pages = [
  '/lessons/',
  '/lessons/walk-round-the-back/',
  '/lessons/small-box-long-wave/',
  '/lessons/what-a-horn-holds/',
  '/lessons/tall-and-thin/',
  '/lessons/what-your-ear-makes-of-it/',
  '/lessons/the-wall-joins-in/',
  '/lessons/the-hall-fills-the-rest/',
  '/lessons/bass-that-takes-sides/',
  '/answers/',
  '/answers/why-more-bass-behind/',
  '/answers/can-you-keep-the-bass-off-our-tables/',
  '/evidence/',
  '/glossary/',
  '/sources/',
  '/safety/',
]

/** Figures alone, for a frame on another page; narrower still. */
const embeds = [
  'walk-round',
  'own-box',
  'box-and-wave',
  'horn',
  'column',
  'wall-distance',
  'hall-parts',
  'steer-the-bass',
].map((name) => `/embed/${name}/`)

/** Collects what a page says on the console and asks of other hosts. */
function complaintsOf(page: Page, baseURL: string | undefined): string[] {
  const complaints: string[] = []
  const home = new URL(baseURL ?? '').host
  page.on('console', (message) => complaints.push(`console ${message.type()}: ${message.text()}`))
  page.on('pageerror', (error) => complaints.push(`error: ${error.message}`))
  page.on('request', (request) => {
    const url = new URL(request.url())
    if (url.protocol.startsWith('http') && url.host !== home) complaints.push(`request to ${url.host}`)
  })
  return complaints
}

for (const path of [...pages, ...embeds]) {
  test(`${path} loads in silence and stays within a narrow screen`, async ({ page, baseURL }) => {
    const complaints = complaintsOf(page, baseURL)
    await page.setViewportSize({ width: 360, height: 740 })
    const response = await page.goto(path)
    expect(response?.status()).toBe(200)
    await expect(page.locator('h1')).toHaveCount(1)
    await page.evaluate(() => document.fonts.ready)
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360)
    expect(complaints).toEqual([])
  })
}

test('the evidence page counts its checks rightly, and all pass', async ({ page }) => {
  await page.goto('/evidence/')
  const total = page.locator('[data-evidence-total]')
  const stated = Number(await total.getAttribute('data-evidence-total'))
  expect(stated).toBeGreaterThan(100)
  await expect(total).toHaveText(`${stated} of ${stated} checks pass`)
  await expect(page.locator('tr[data-check]')).toHaveCount(stated)
  await expect(page.locator('tr[data-check="passes"]')).toHaveCount(stated)
  await expect(page.locator('tr[data-check] td:last-child', { hasText: /^passes$/ })).toHaveCount(stated)
})

test('a link to one check opens its table and leads to its row', async ({ page }) => {
  await page.goto('/evidence/')
  const row = page.locator('tr[data-check]').nth(20)
  await expect(row).toBeHidden()
  await page.goto(`/evidence/#${await row.getAttribute('id')}`)
  await expect(row).toBeInViewport()
})

test.describe('without JavaScript', () => {
  test.use({ javaScriptEnabled: false })

  test('the lesson can be read to its end', async ({ page }) => {
    await page.goto('/lessons/walk-round-the-back/')
    await expect(page.locator('.prose > h2')).toHaveText(['Guess', 'See', 'Hear', 'Why', 'Do'])
    const table = page.getByRole('region', { name: 'Bass and treble on the way round' })
    await expect(table.locator('tbody tr')).toHaveCount(4)
    for (const cell of await table.locator('tbody td:not(:first-child)').all()) {
      await expect(cell).toHaveText(/^(unchanged|(about )?\d+\sdB down)$/)
    }
    await expect(page.locator('.katex-display')).toHaveCount(3)
    await expect(page.locator('.length-m').first()).toBeVisible()
    await expect(page.locator('.length-ft').first()).toBeHidden()
  })

  for (const slug of ['why-more-bass-behind', 'can-you-keep-the-bass-off-our-tables']) {
    test(`the answer ${slug} can be read in a minute`, async ({ page }) => {
      await page.goto(`/answers/${slug}/`)
      const words = await page.locator('.prose').evaluate((prose) => {
        for (const other of prose.querySelectorAll('.length-ft')) other.remove()
        const children = [...prose.children]
        const paragraphs = children.slice(
          0,
          children.findIndex((child) => child.tagName === 'H2'),
        )
        const text = paragraphs.filter((child) => child.tagName === 'P').map((child) => child.textContent)
        return text.join(' ').split(/\s+/).filter(Boolean).length
      })
      expect(words).toBeGreaterThan(80)
      expect(words).toBeLessThanOrEqual(220)
      await expect(page.getByRole('heading', { name: 'What we do about it' })).toBeVisible()
    })
  }
})

test('lengths in the prose follow the switch for feet', async ({ page }) => {
  await page.goto('/lessons/walk-round-the-back/')
  const length = page.locator('.prose p').first()
  await expect(length.locator('.length-m')).toBeVisible()
  await page.getByRole('button', { name: 'Lengths in feet' }).click()
  await expect(length.locator('.length-ft')).toBeVisible()
  await expect(length.locator('.length-m')).toBeHidden()
})

test('an address that leads nowhere says so and leads on', async ({ page }) => {
  const response = await page.goto('/no-such-page/')
  expect(response?.status()).toBe(404)
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('No such page')
  await expect(page.locator('main a[href="/answers/"]')).toBeVisible()
})

test('every link on the pages of words leads to a page, and to a place on it', async ({ page, request }) => {
  const targets = new Map<string, Set<string>>()
  for (const path of [...pages, '/404.html']) {
    await page.goto(path)
    const links = await page
      .locator('a[href]')
      .evaluateAll((anchors) => anchors.map((a) => (a as HTMLAnchorElement).href))
    for (const link of links) {
      const { pathname, hash } = new URL(link)
      targets.set(pathname, (targets.get(pathname) ?? new Set()).add(decodeURIComponent(hash.slice(1))))
    }
  }
  for (const path of pages) expect([...targets.keys()], 'every page of words is linked').toContain(path)
  for (const [path, places] of targets) {
    const response = await request.get(path)
    expect(response.status(), path).toBe(200)
    const html = await response.text()
    for (const place of places) {
      // A widget's state stands behind the sign too; it is not a place.
      if (place === '' || place.includes('=')) continue
      expect(html.includes(`id="${place}"`), `${path}#${place}`).toBe(true)
    }
  }
})
