import { expect } from '@playwright/test'
import { answers, builtPages } from './built-pages.ts'
import { test } from './test.ts'

/** Pages that a reader comes to by links; a figure alone is for a frame on somebody else's page. */
const pages = builtPages.filter((path) => !path.includes('/embed/'))

test('the evidence page counts its checks rightly, and all pass', async ({ page }) => {
  await page.goto('/evidence/')
  const total = page.locator('[data-evidence-total]')
  const stated = Number(await total.getAttribute('data-evidence-total'))
  expect(stated).toBeGreaterThan(100)
  await expect(total).toHaveText(`${stated} of ${stated} checks pass,`)
  await expect(page.locator('tr[data-check]')).toHaveCount(stated)
  await expect(page.locator('tr[data-check="passes"]')).toHaveCount(stated)
  await expect(page.locator('tr[data-check] td:last-child', { hasText: /^passes$/ })).toHaveCount(stated)
  // Every check stands under one kind, and the counts beside the headings are theirs.
  const kinds = page.locator('section[data-kind]')
  const counts = await kinds.evaluateAll((sections) =>
    sections.map((section) => ({
      said: Number(section.dataset.count),
      shown: section.querySelectorAll('tr[data-check]').length,
    })),
  )
  for (const { said, shown } of counts) expect(said).toBe(shown)
  expect(counts.reduce((sum, { said }) => sum + said, 0)).toBe(stated)
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

  for (const slug of answers) {
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

/** Text as HTML writes it, plain. */
const plainOf = (html: string) =>
  html.replaceAll('&#39;', "'").replaceAll('&quot;', '"').replaceAll('&amp;', '&').trim()

test('the list of answers leads to each, with its sentence', async ({ page, request }) => {
  await page.goto('/answers/')
  const links = page.locator('main .answers h2 a')
  const hrefs = await links.evaluateAll((all) => all.map((each) => each.getAttribute('href') ?? ''))
  expect([...hrefs].sort()).toEqual(answers.map((name) => `/answers/${name}/`).sort())
  // Each with the sentence that the answer itself begins with.
  for (const href of hrefs) {
    const entry = page.locator('main .answers li', { has: page.locator(`a[href="${href}"]`) })
    const answer = await (await request.get(href)).text()
    const lede = /<p class="lede"[^>]*>([^<]*)<\/p>/.exec(answer)?.[1]
    await expect(entry.locator('p')).toHaveText(plainOf(lede ?? 'no lede'))
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
