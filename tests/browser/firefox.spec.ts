// The main paths in Firefox, where one is installed (FIREFOX_PATH): another engine than the one that all other tests drive.
// Live sound is not among them: without a sound device it stands still there.
import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect } from '@playwright/test'
import puppeteer, { type Browser, type ElementHandle, type Page } from 'puppeteer-core'
import { pinkNoise } from '../../src/acoustics/signals/pink-noise.ts'
import { writeWav } from '../../src/acoustics/signals/write-wav.ts'
import { serve } from '../../src/tools/serve.mjs'
import { answers } from './built-pages.ts'
import { presses, wakesAll } from './in-page.ts'
import { baseURL, hasOpenedAll, port } from './readers.ts'
import { test } from './test.ts'

const executablePath = process.env['FIREFOX_PATH']
const longWork = { timeout: 120_000, polling: 200 }

/** A page that is left while its workers fetch their code says this. Of what the service worker does not have it says "rejected". */
const cutOff = /A ServiceWorker intercepted the request and encountered an unexpected error/

let browser: Browser
let page: Page
let heard: string[] = []

const open = async (path: string, origin = baseURL) => {
  await page.goto(`${origin}${path}`)
  await page.waitForFunction(wakesAll, longWork)
}
const textOf = (selector: string) => page.$eval(selector, (element) => element.textContent?.trim() ?? '')
/** Presses the button in a part of the page whose words begin so, once it is there. */
const press = (part: string, words: string) => page.waitForFunction(presses, longWork, part, words)

if (executablePath) {
  test.describe.configure({ timeout: 300_000 })
  test.beforeAll(async () => {
    browser = await puppeteer.launch({
      browser: 'firefox',
      executablePath,
      extraPrefsFirefox: {
        'media.navigator.streams.fake': true,
        'media.navigator.permission.disabled': true,
        'ui.useOverlayScrollbars': 1,
      },
    })
  })
  test.afterAll(() => browser.close())
  test.beforeEach(async () => {
    heard = []
    page = await (await browser.createBrowserContext()).newPage()
    page.on('console', (message) => heard.push(message.text()))
    page.on('pageerror', (error) => heard.push(String(error)))
    // What stands behind a guess is open, as for the readers of the other tests.
    await page.goto(`${baseURL}/safety/`)
    await page.evaluate((kept) => {
      for (const [name, text] of Object.entries(kept)) localStorage.setItem(name, text)
    }, hasOpenedAll)
  })
  test.afterEach(async () => {
    await page.browserContext().close()
    expect(heard.filter((words) => !cutOff.test(words))).toEqual([])
  })

  test('home: the listener is moved by keys, and the sentence follows; a link brings it back', async () => {
    await open('/')
    const before = await textOf('.sentence')
    await page.$eval('svg [role=slider]', (handle) => (handle as SVGElement).focus())
    for (let step = 0; step < 6; step++) await page.keyboard.press('ArrowRight')
    await page.waitForFunction(
      (old) => document.querySelector('.sentence')?.textContent?.trim() !== old,
      longWork,
      before,
    )
    await page.waitForFunction(() => !document.querySelector('.told.old'), longWork)
    const moved = await textOf('.sentence')
    await page.waitForFunction(() => location.search.includes('walk.'), longWork)
    const address = new URL(page.url())
    await open(address.pathname + address.search)
    await page.waitForFunction(
      (wanted) => document.querySelector('.sentence')?.textContent?.trim() === wanted,
      longWork,
      moved,
    )
  })

  test('the music loop is made, which Firefox cannot halt bar by bar', async () => {
    await page.goto(`${baseURL}/harness/sound/`)
    await page.waitForFunction(() => window.auditionHarness !== undefined, longWork)
    const { peak, whole } = await page.evaluate(async () => {
      const samples = await window.auditionHarness.renderMusicLoop(44100)
      return {
        peak: samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0),
        whole: samples.every(Number.isFinite),
      }
    })
    expect(whole).toBe(true)
    expect(peak).toBeGreaterThan(0.2)
  })

  test('after one visit the site works without a network', async () => {
    const { server, port: at } = await serve(join(import.meta.dirname, '../results/site'), port + 80, { orNext: true })
    const origin = `http://localhost:${at}`
    await page.goto(`${origin}/safety/`)
    await page.waitForFunction(() => document.querySelector<HTMLElement>('#kept-here')?.hidden === false, longWork)
    server.close()
    server.closeAllConnections()
    for (const path of ['/', '/lessons/more-boxes/?x=1', '/plan/']) {
      await open(path, origin)
      expect(await textOf('h1'), path).not.toBe('')
    }
  })

  test('every answer and a lesson wake without a word on the console', async () => {
    for (const path of [
      ...answers.map((name) => `/answers/${name}/`),
      '/lessons/bass-that-takes-sides/',
      '/own-box/',
    ]) {
      await open(path)
      expect((await textOf('h1')).length, path).toBeGreaterThan(3)
    }
  })

  test('two microphones: the practice set down to the verdict', async () => {
    await open('/compare/')
    for (const step of ['match', 'quiet', 'sound']) {
      await press(`.step[data-step=${step}]`, 'Use the practice recording')
      await page.waitForSelector(`.step[data-step=${step}].done`, { timeout: longWork.timeout })
    }
    await page.waitForFunction(
      () =>
        document.querySelector('.step.verdict .sentence')?.textContent?.includes('hardly any difference in the bass'),
      longWork,
    )
  })

  test('two microphones: a file of one’s own is read, a bad one is named', async () => {
    const sampleRateHz = 48000
    const noise = pinkNoise({ sampleRateHz, durationS: 12, seed: 3 })
    const folder = await mkdtemp(join(tmpdir(), 'two-microphones-'))
    const [good, bad] = [join(folder, 'match.wav'), join(folder, 'notes.wav')]
    await writeFile(good, writeWav({ sampleRateHz, channels: [noise, noise.map((sample) => sample / 2)] }, 'pcm16'))
    await writeFile(bad, 'a shopping list, and more of it')
    await open('/compare/')
    const step = '.step[data-step=match]'
    const choose = async (path: string) =>
      (
        (await page.waitForSelector(
          `${step} input[aria-label="Choose the stereo recording"]`,
          longWork,
        )) as ElementHandle<HTMLInputElement>
      ).uploadFile(path)
    await choose(bad)
    await page.waitForFunction(
      (part) => document.querySelector(part)?.textContent?.includes('no WAV file but plain text'),
      longWork,
      step,
    )
    await choose(good)
    await page.waitForSelector(`${step}.done`, { timeout: longWork.timeout })
    await rm(folder, { recursive: true })
  })
}
