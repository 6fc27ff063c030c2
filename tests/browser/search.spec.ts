// Looking for a word on the site.
import { expect, type Page } from '@playwright/test'
import { expectAccessible } from './page-checks.ts'
import { test } from './test.ts'

const field = (page: Page) => page.getByRole('searchbox', { name: 'Look for' })
const found = (page: Page) => page.locator('#search-found li')

test('a word is found where it is explained, and the way leads to the place', async ({ page }) => {
  await page.goto('/search/')
  await field(page).fill('beamwidth')
  await expect(found(page).first()).toBeVisible()
  await expect(page.getByRole('status').filter({ hasText: 'found' })).toContainText(/\d+ places found/)
  await expect(found(page).locator('mark').first()).toHaveText(/beamwidth/i)
  const link = found(page)
    .getByRole('link', { name: /Glossary/ })
    .first()
  const href = (await link.getAttribute('href')) ?? ''
  await link.click()
  await expect(page.locator(`[id="${href.split('#')[1]}"]`)).toBeVisible()
  await expect(page).toHaveURL(href)
})

test('what is looked for stands in the address, and a slip of the finger does not matter', async ({ page }) => {
  await page.goto('/search/?q=polarty')
  await expect(field(page)).toHaveValue('polarty')
  await expect(found(page).first()).toBeVisible()
  await expect(page.locator('#search-found')).toContainText(/polarity/i)
  await field(page).fill('')
  await expect(found(page)).toHaveCount(0)
  await expect(page).toHaveURL('/search/')
})

test('every place that is found is there', async ({ page, request }) => {
  const index = (await (await request.get('/search-index.json')).json()) as {
    storedFields: Record<string, { url: string }>
  }
  const urls = [...new Set(Object.values(index.storedFields).map(({ url }) => url))]
  expect(urls.length).toBeGreaterThan(150)
  for (const [path, anchors] of Object.entries(Object.groupBy(urls, (url) => url.split('#')[0] ?? ''))) {
    await page.goto(path)
    const missing = await page.evaluate(
      (ids) => ids.filter((id) => id !== '' && !document.getElementById(id)),
      (anchors ?? []).map((url) => url.split('#')[1] ?? ''),
    )
    expect(missing, path).toEqual([])
  }
})

test('nothing found and nothing fetched are said, markup that is typed stays text', async ({ page }) => {
  await page.goto('/search/')
  await page.route('**/search-index.json', (route) => route.abort())
  await field(page).fill('<img src=x onerror=alert(1)> qqqq')
  await expect(page.getByText('could not be fetched')).toBeVisible()
  await page.unroute('**/search-index.json')
  await page.getByRole('button', { name: 'search' }).click()
  await expect(page.getByText('Nothing found')).toBeVisible()
  await expect(page.locator('main img')).toHaveCount(0)
})

test('the list is accessible on a phone', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 844 })
  await page.goto('/search/?q=bass%20wall')
  await expect(found(page).first()).toBeVisible()
  await expectAccessible(page)
})
