// The site's second language: what a reader meets on its pages, on the way there and back, and that nothing on them stayed English.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, type Page } from '@playwright/test'
import { clearPlace } from '../../src/acoustics/index.ts'
import { walkAnswer } from '../../src/engine/questions/walk/walk.ts'
import { loadSolvedRig } from '../../src/engine/scene/solved-gear.ts'
import { languageIn } from '../../src/tools/languages.mjs'
import { rigOf } from '../demo-gear.ts'
import { answers, builtPages, translatedPages } from './built-pages.ts'
import { framesPass, openEverything, wakeFigures } from './page-checks.ts'
import { test } from './test.ts'
import { seenWords, watchWords } from './watch-words.ts'

const site = join(import.meta.dirname, '../results/site')
const htmlOf = (path: string) => readFileSync(join(site, path, 'index.html'), 'utf8')
const spanish = languageIn('es')
const pages = translatedPages.filter((path) => path.startsWith('/es/'))
const lesson = '/es/lessons/walk-round-the-back/'
const switchTo = (page: Page, name: string) => page.getByRole('banner').getByRole('link', { name, exact: true })
const listener = (page: Page) => page.locator('.plan [role=slider]').first()
const sentence = (page: Page) => page.locator('.sentence').first()

/** How much less treble the module computes behind, whole dB. */
async function trebleDb(angleDeg: number, distanceM: number) {
  const rig = rigOf('top-over-sub')
  await loadSolvedRig(rig)
  const place = clearPlace({ angleRad: (angleDeg * Math.PI) / 180, distanceM }, rig)
  return Math.abs(Math.round(walkAnswer({ rig, place, datum: 'front-face' }).trebleDb))
}

test('every page that is translated is there, and no other', () => {
  const wanted = spanish.addresses.filter((address) => address !== '/404/').map((address) => `/es${address}`)
  expect(pages).toEqual(wanted.sort())
  for (const path of [
    '/',
    '/answers/',
    '/safety/',
    '/lessons/walk-round-the-back/',
    ...answers.map((name) => `/answers/${name}/`),
  ])
    expect(pages).toContain(`/es${path}`)
})

test('a page says its language and where it is in the other, to readers and to programs', async ({ request }) => {
  const head = (html: string, rel: RegExp) => [...html.matchAll(rel)].map(([, ...found]) => found.join(' ')).sort()
  const alternates = /<link rel="alternate" hreflang="([^"]+)" href="https:\/\/round-the-back\.example([^"]*)"/g
  for (const path of pages) {
    const english = path.replace('/es/', '/')
    for (const [page, language] of [
      [path, 'es'],
      [english, 'en'],
    ] as const) {
      const html = htmlOf(page)
      expect(html, page).toContain(`<html lang="${language}"`)
      expect(head(html, alternates), page).toEqual([`en ${english}`, `es ${path}`])
    }
    expect(htmlOf(path)).toContain('<meta property="og:locale" content="es_ES"')
    expect(htmlOf(path)).toContain(`<link rel="canonical" href="https://round-the-back.example${path}"`)
  }
  for (const path of builtPages.filter((each) => !each.startsWith('/es/') && !pages.includes(`/es${each}`)))
    expect(htmlOf(path), path).not.toContain('hreflang=')
  const list = await (await request.get('/sitemap-0.xml')).text()
  const [, entry = ''] = /<loc>https:\/\/round-the-back\.example\/es\/safety\/<\/loc>(.*?)<\/url>/.exec(list) ?? []
  expect(entry).toContain('hreflang="en" href="https://round-the-back.example/safety/"')
})

test('headings keep the addresses that they have in English', () => {
  const anchors = (html: string) => [...html.matchAll(/<h[23][^>]*\sid="([^"]+)"/g)].map(([, id]) => id)
  for (const path of pages) expect(anchors(htmlOf(path)), path).toEqual(anchors(htmlOf(path.replace('/es/', '/'))))
})

test('home: the sentence with a comma, walked round by hand, and the switch keeps the place both ways', async ({
  page,
}) => {
  await page.goto('/es/')
  await expect(page.locator('html')).toHaveAttribute('lang', 'es')
  await expect(page.locator('.plan canvas')).toBeVisible()
  await expect(sentence(page)).toContainText('2,5 m')
  await expect(sentence(page)).toContainText(`${await trebleDb(180, 2.5)} dB`)
  await expect(sentence(page)).toContainText(/graves/)
  const handle = await listener(page).locator('.head').boundingBox()
  if (!handle) throw new Error('the listener is not on the plan')
  const [left, top] = [handle.x + handle.width / 2, handle.y + handle.height / 2]
  const before = await sentence(page).textContent()
  await page.mouse.move(left, top)
  await page.mouse.down()
  await page.mouse.move(left + 30, top + 60, { steps: 5 })
  await page.mouse.up()
  await expect(sentence(page)).not.toHaveText(before ?? '')
  await expect(sentence(page)).not.toHaveText(/\d\.\d/)
  // The address follows the drag, and at its end says where the listener stands.
  await framesPass(page)
  const angle = (await listener(page).getAttribute('aria-valuenow')) ?? ''
  await expect(page).toHaveURL(new RegExp(`walk\\.angleDeg=${angle}&`))
  const fields = new URL(page.url()).search
  await switchTo(page, 'English').click()
  await expect(page).toHaveURL(/^http:\/\/localhost:\d+\/\?/)
  expect(new URL(page.url()).search).toBe(fields)
  await expect(page.locator('html')).toHaveAttribute('lang', 'en')
  await expect(listener(page)).toHaveAttribute('aria-valuenow', angle)
  await switchTo(page, 'Español').click()
  await expect(page).toHaveURL(/\/es\/\?/)
  expect(new URL(page.url()).search).toBe(fields)
  await expect(listener(page)).toHaveAttribute('aria-valuenow', angle)
})

test('the switch keeps the place on the page, by keyboard too; the page for no address has none', async ({ page }) => {
  await page.goto('/safety/#mains')
  await switchTo(page, 'Español').press('Enter')
  await expect(page).toHaveURL(/\/es\/safety\/#mains$/)
  await expect(page.locator('#mains')).toBeInViewport()
  expect((await page.goto('/no-such-page/'))?.status()).toBe(404)
  await expect(switchTo(page, 'Español')).toHaveCount(0)
})

test('a length is typed with a comma or a point and written with a comma', async ({ page }) => {
  await page.goto('/es/answers/why-did-you-move-the-speakers-at-the-wall/')
  await wakeFigures(page)
  await openEverything(page)
  const { wallToBack = '' } = spanish.messages['widgets/wall-distance/wall-distance'] ?? {}
  const field = page.getByRole('textbox', { name: wallToBack })
  for (const [typed, written] of [
    ['1,35', '1,35'],
    ['0.85', '0,85'],
    ['96 centímetros', '0,96'],
  ] as const) {
    await field.fill(typed)
    await field.blur()
    await expect(field).toHaveValue(written)
  }
  await expect(page).toHaveURL(/gapM=0\.96/)
  await field.fill('xyz')
  await field.press('Enter')
  await expect(page.locator('main [id$="-note"]').first()).toContainText(/\d m/)
  await expect(page.locator('main [id$="-note"]').first()).not.toContainText(/\d\.\d/)
})

test('the search looks through the Spanish pages', async ({ page }) => {
  await page.goto('/es/search/')
  await page.getByRole('searchbox').fill('difracción')
  const found = page.locator('#search-found a')
  await expect(found.first()).toBeVisible()
  for (const href of await found.evaluateAll((all) => all.map((each) => each.getAttribute('href'))))
    expect(href).toMatch(/^\/es\//)
})

test.describe('without JavaScript', () => {
  test.use({ javaScriptEnabled: false })
  test('home, an answer and the lesson read completely in Spanish', async ({ page }) => {
    for (const path of ['/es/', '/es/answers/why-more-bass-behind/', lesson]) {
      await page.goto(path)
      const told = page.locator('.sentence', { hasText: 'graves' }).first()
      await expect(told).toContainText(/\d(,\d)? m/)
      await expect(page.locator('main img').first()).toBeVisible()
    }
  })
})

/** Words that English cannot do without and Spanish has not; the site's name stays. */
const englishWords = {
  word: /(?<![\p{L}’'-])(?:the(?! Back)|and|of|with|is|are|you|your|this|that|what|which|from|behind|here|how|when|where|who|not|in front|there|it|its|be|to|at|on|or|by|for|more|less|than|box|boxes|bass|treble|level|loud|wall|hall)(?![\p{L}’'-])/giu,
  but: /^$/,
}
/** A number as a program writes it; not that of a section of a book, 2.4.4, which is a name. */
const pointNumbers = { word: /(?<!apartados? [^,;:()]*)\d\.\d/g, but: /^$/ }

/** A link leads to the Spanish page where there is one; one that leaves Spanish says so, and the foot of the page what the mark means. */
async function expectOwnLinks(page: Page, path: string) {
  const links = await page.locator('a[href^="/"]:not(.language, [download])').evaluateAll((all) =>
    all.map((link) => ({
      path: new URL((link as HTMLAnchorElement).href).pathname,
      mark: getComputedStyle(link, '::after').content,
    })),
  )
  expect(links.length).toBeGreaterThan(path.startsWith('/es/embed/') ? 0 : 8)
  const leaving = links.filter(({ path }) => !path.startsWith('/es/'))
  for (const { path, mark } of links) expect(mark, path).toBe(path.startsWith('/es/') ? 'none' : '"EN"')
  expect(leaving.filter(({ path }) => pages.includes(`/es${path}`))).toEqual([])
  const foot = page.locator('.only-in-english')
  if ((await foot.count()) > 0) await expect(foot).toBeVisible({ visible: leaving.length > 0 })
}

for (const path of pages) {
  test(`${path} has no English word and no decimal point, as it is built and while it is used, and its links stay in Spanish`, async ({
    page,
  }) => {
    page.setDefaultTimeout(60_000)
    await page.goto(path)
    await watchWords(page, englishWords)
    await wakeFigures(page)
    await openEverything(page)
    await expectOwnLinks(page, path)
    for (const slider of await page.locator('main [role=slider]').all()) {
      if (!(await slider.isVisible())) continue
      await slider.focus()
      await page.keyboard.press('ArrowUp')
    }
    expect(await seenWords(page)).toEqual([])
    await watchWords(page, pointNumbers)
    expect(await seenWords(page)).toEqual([])
  })
}
