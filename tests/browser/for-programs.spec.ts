// What programs read: the list of pages, the feed, and where each says it stands.
import { expect } from '@playwright/test'
import { builtPages } from './built-pages.ts'
import { test } from './test.ts'

const site = 'https://round-the-back.example'
const addressesIn = (xml: string, tag: string) =>
  [...xml.matchAll(new RegExp(`<${tag}[^>]*>([^<]*)</${tag}>`, 'g'))].map(([, text = '']) => text)

test('the list for search engines has every page that is to be found, once', async ({ request }) => {
  const index = await (await request.get('/sitemap-index.xml')).text()
  const lists = addressesIn(index, 'loc')
  expect(lists.length).toBeGreaterThan(0)
  const listed: string[] = []
  for (const list of lists) listed.push(...addressesIn(await (await request.get(list.replace(site, ''))).text(), 'loc'))
  const wanted = builtPages.filter((path) => !/^(\/es)?\/(embed|harness|compare\/sent)\//.test(path))
  expect(listed.map((address) => address.replace(site, '')).sort()).toEqual([...wanted].sort())
})

test('the feed has every lesson and answer with an address that is there', async ({ page, request }) => {
  await page.goto('/')
  const feed = (await page.locator('link[rel=alternate][type="application/rss+xml"]').getAttribute('href')) ?? ''
  const response = await request.get(feed)
  expect(response.headers()['content-type']).toMatch(/xml/)
  const items = (await response.text()).split('<item>').slice(1)
  const links = items.map((item) => addressesIn(item, 'link')[0]?.replace(site, '') ?? '')
  const read = builtPages.filter((path) => /^\/(lessons|answers)\/./.test(path))
  expect(links.length).toBe(new Set(links).size)
  expect(read).toEqual(expect.arrayContaining(links))
  expect(links.filter((path) => path.startsWith('/answers/')).length).toBeGreaterThanOrEqual(12)
  for (const item of items) expect(addressesIn(item, 'description')[0]?.length).toBeGreaterThan(20)
})
