// A hall without a signal: after one visit everything works with no network, and a newer version takes nothing away from who has the site open.
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type Browser, type BrowserContext, expect, type Page } from '@playwright/test'
import { writeServiceWorker } from '../../src/tools/offline.mjs'
import { serve } from '../../src/tools/serve.mjs'
import { builtPages } from './built-pages.ts'
import { hear, listen, longWork, openEverything, player, wakeFigures } from './page-checks.ts'
import { port } from './readers.ts'
import { anotherReader, test } from './test.ts'

test.describe.configure({ mode: 'serial', timeout: 400_000 })

const site = join(import.meta.dirname, '../results/site')
const lessons = builtPages.filter((path) => path.startsWith('/lessons/'))

/** A server of its own, which a test can close or give other files; and a reader who has been there once. */
async function visit(browser: Browser, folder: string) {
  const { server, port: at } = await serve(folder, port + 20, { orNext: true })
  const origin = `http://localhost:${at}`
  const cut = () => {
    server.close()
    server.closeAllConnections()
  }
  const context = await anotherReader(browser, { baseURL: origin, serviceWorkers: 'allow' })
  const page = await context.newPage()
  await page.goto('/safety/')
  await expect(page.locator('#kept-here')).toBeVisible(longWork)
  return { context, page, at, cut }
}

test.describe('with the network cut after one visit to one page', () => {
  let context: BrowserContext
  let page: Page
  let at: number
  let heard: string[]

  test.beforeAll(async ({ browser }) => {
    const visited = await visit(browser, site)
    ;({ context, page, at } = visited)
    visited.cut()
    await expect(fetch(`http://localhost:${at}/`)).rejects.toThrow()
  })
  test.beforeEach(() => {
    page.removeAllListeners()
    heard = listen(page)
  })
  test.afterEach(() => expect(heard).toEqual([]))
  test.afterAll(() => context.close())

  /** Opens a page, wakes its figures and sees that nothing of it is missing. */
  async function expectWhole(path: string) {
    expect((await page.goto(path))?.status(), path).toBe(200)
    await wakeFigures(page)
    await openEverything(page)
    await expect(page.locator('.told.old'), path).toHaveCount(0, longWork)
    await expect(page.locator('#page-notice'), path).toBeEmpty()
    await expect(page.locator('.waking'), path).toHaveCount(0)
    const lost = await page.evaluate(async () => {
      const pictures = [...document.images].filter((image) => image.checkVisibility())
      const seen = await Promise.all(
        pictures.map((image) => {
          image.loading = 'eager'
          return image.decode().then(
            () => '',
            () => image.src,
          )
        }),
      )
      await document.fonts.ready
      return seen.concat(
        [...document.fonts]
          .filter(({ status, family }) => status === 'error' && !family.includes('meanwhile'))
          .map(({ family }) => family),
      )
    })
    expect(lost.filter(Boolean), path).toEqual([])
  }

  test('the whole course is there, with every figure awake', async () => {
    expect(lessons.length).toBeGreaterThan(12)
    for (const path of lessons) await expectWhole(path)
  })

  test('so is every other page, and the frames for other sites', async () => {
    for (const path of builtPages.filter((each) => !lessons.includes(each))) await expectWhole(path)
  })

  test('a lesson is heard, its check begins, it is sent', async () => {
    await page.goto('/lessons/walk-round-the-back/')
    await wakeFigures(page)
    await hear(
      page
        .locator('.figure')
        .filter({ has: page.locator('.place-switch') })
        .first(),
    )
    await expect(player(page)).toBeVisible()
    await page.keyboard.press('Escape')
    await page.locator('.self-check summary').press('Enter')
    await expect(page.locator('.self-check .place')).toBeVisible()
    const send = page.locator('summary', { hasText: /^send$/ }).first()
    await send.click()
    await expect(page.getByRole('button', { name: 'copy the link' }).first()).toBeVisible()
  })

  test('a link opens as it was sent, an address without its slash too; no address gets the site’s own page', async () => {
    await page.goto('/?walk.angleDeg=90&walk.distanceM=4#figure-walk')
    await wakeFigures(page)
    await expect(page.locator('.figure .sentence').first()).toContainText('4 m')
    await page.goto('/lessons?x=1#main')
    expect(new URL(page.url()).pathname + new URL(page.url()).search).toBe('/lessons/?x=1')
    await page.goto('/glossary/index.html')
    expect(new URL(page.url()).pathname).toBe('/glossary/')
    expect((await page.goto('/no/such/page/'))?.status()).toBe(404)
    await expect(page.locator('h1')).toHaveText('No such page')
    // Chromium says what it was given for the page.
    expect(heard.splice(0)).toEqual([expect.stringContaining('404')])
  })

  test('words are found', async () => {
    await page.goto('/search/')
    await page.getByRole('searchbox', { name: 'Look for' }).fill('beamwidth')
    await expect(page.locator('#search-found li').first()).toBeVisible()
  })

  test('two microphones: the practice set down to the verdict', async () => {
    await page.goto('/compare/')
    await wakeFigures(page)
    for (const step of ['match', 'quiet', 'sound']) {
      const part = page.locator(`.step[data-step=${step}]`)
      await part.getByRole('button', { name: 'Use the practice recording' }).click()
      await expect(part).toHaveClass(/done/, longWork)
    }
    await expect(page.locator('.step.verdict .sentence')).toContainText('hardly any difference in the bass', longWork)
  })

  test('a box of the reader’s own is solved', async () => {
    await page.goto('/own-box/')
    await wakeFigures(page)
    const own = page.getByRole('region', { name: 'Your own box' })
    await own.getByRole('textbox', { name: 'width (m)', exact: true }).fill('0.4')
    await expect(own.locator('.count')).toContainText('of 19 bands solved')
    await expect(own.locator('.count')).toContainText('All 19 bands solved', { timeout: 240_000 })
  })

  test('a plan is made, computed anew and kept', async () => {
    await page.goto('/plan/')
    await wakeFigures(page)
    const sheet = page.getByRole('region', { name: 'Plan of the hall' })
    await expect(sheet.locator('.who.old')).toHaveCount(0)
    const told = await sheet.locator('.who tbody').textContent()
    const table = sheet.getByRole('slider', { name: 'Quiet table', exact: true })
    await table.focus()
    await page.keyboard.press('PageUp')
    await expect(sheet.locator('.who tbody')).not.toHaveText(told ?? '', longWork)
    const moved = (await table.getAttribute('aria-valuetext')) ?? ''
    await page.reload()
    await wakeFigures(page)
    await expect(table).toHaveAttribute('aria-valuetext', moved)
  })
})

test('a newer version is offered; an open plan stays, with all that it has not fetched yet, until its reader loads it', async ({
  browser,
}) => {
  const folder = mkdtempSync(join(tmpdir(), 'round-the-back-newer-'))
  cpSync(site, folder, { recursive: true })
  const { context, page: plan, at, cut } = await visit(browser, folder)
  let again: Awaited<ReturnType<typeof serve>> | undefined
  try {
    const heard = listen(plan)
    await plan.goto('/plan/')
    await wakeFigures(plan)
    const table = plan.getByRole('region', { name: 'Plan of the hall' }).getByRole('slider', { name: 'Quiet table' })
    await table.focus()
    await plan.keyboard.press('PageUp')
    const moved = (await table.getAttribute('aria-valuetext')) ?? ''
    // In the middle of typing.
    await plan.evaluate(() => Object.assign(window, { isTheSamePage: true }))
    const isTheSame = () => plan.evaluate(() => 'isTheSamePage' in window)

    const gone = await publishNewer(folder)
    // A server knows the files that were there when it began.
    cut()
    again = await serve(folder, at)
    const other = await context.newPage()
    await other.goto('/safety/')
    const offer = (page: Page) => page.locator('#newer-version .card')
    await expect(offer(other)).toBeVisible(longWork)
    await expect(offer(plan)).toBeVisible(longWork)
    // Put off, it is not offered on every page.
    await offer(plan).getByRole('button', { name: 'later' }).click()
    await expect(offer(plan)).toBeHidden()
    await expect(other.locator('h1')).not.toContainText('anew')

    await offer(other).getByRole('button', { name: 'load it now' }).click()
    await expect(other.locator('h1')).toContainText('anew', longWork)
    await expect(offer(other)).toBeHidden()

    // The plan is an old page under the newer version now: nothing is lost, and what the server no longer has is at hand.
    expect(await isTheSame()).toBe(true)
    await expect(table).toHaveAttribute('aria-valuetext', moved)
    const asked: string[] = []
    plan.on('response', (response) => asked.push(new URL(response.url()).pathname))
    await plan.locator('summary', { hasText: 'Send the plan' }).click()
    await expect(plan.getByRole('button', { name: 'copy the link' })).toBeVisible(longWork)
    expect(asked.filter((path) => gone.includes(path)).length, 'it has fetched what is gone').toBeGreaterThan(0)
    await plan.reload()
    await expect(plan.locator('h1')).toContainText('anew')
    await wakeFigures(plan)
    await expect(table).toHaveAttribute('aria-valuetext', moved)
    expect(heard).toEqual([])
  } finally {
    await context.close()
    again?.server.closeAllConnections()
    again?.server.close()
    rmSync(folder, { recursive: true })
  }
})

/**
 * Publishes a version in which every page's heading, and every script's name, is another one.
 *
 * @returns  the addresses of scripts that are gone with the old version
 */
async function publishNewer(folder: string): Promise<string[]> {
  const assets = readdirSync(join(folder, '_astro')).filter((name) => name.endsWith('.js'))
  const renamed = new Map(assets.map((name) => [name, name.replace(/\.js$/, 'N.js')]))
  const names = new RegExp(
    [...renamed.keys()].map((name) => name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')).join('|'),
    'g',
  )
  const written = (file: string, change: (text: string) => string) => {
    // Compressed forms would still say the old things.
    for (const form of ['br', 'gz']) if (existsSync(`${file}.${form}`)) rmSync(`${file}.${form}`)
    writeFileSync(file, change(readFileSync(file, 'utf8')))
  }
  const newNames = (text: string) => text.replaceAll(names, (name) => renamed.get(name) ?? name)
  for (const path of builtPages)
    written(join(folder, path, 'index.html'), (html) => newNames(html).replace('</h1>', ' anew</h1>'))
  for (const [name, newName] of renamed) {
    const file = join(folder, '_astro', name)
    written(file, newNames)
    renameSync(file, join(folder, '_astro', newName))
  }
  await writeServiceWorker(folder)
  for (const form of ['br', 'gz']) rmSync(join(folder, `service-worker.js.${form}`), { force: true })
  return assets.map((name) => `/_astro/${name}`)
}
