// How soon a key and a plan are answered, and what pages load: node tests/bench/in-browser.mjs, or as a part of npm run bench. Wants a quiet machine.
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import { chromium } from '@playwright/test'
import { browserEnvironment } from '../../src/tools/browser.mjs'
import { freePort, projectRoot } from '../../src/tools/set-up.mjs'
import { serveCompressed } from './compressed-site.mjs'
import { printPlanTimes } from './plan-in-browser.mjs'

/** Slowdown of the processor → within what a key must be answered by a new sentence at the median, ms: a frame, and what is felt as at once. */
const answerAimsMs = { 1: 1000 / 60, 4: 100 }

/**
 * Prints how long the walk-round takes from a key to a new sentence, a large plan from a key to its answer, and the script that pages load.
 *
 * @param folder      the built site
 * @param chromePath  the browser; Playwright's own if undefined
 * @returns           whether sentence and answer come in time
 */
export async function printInBrowser(folder, chromePath) {
  const port = await freePort(4390)
  const server = await serveCompressed(folder, port)
  const browser = await chromium.launch({
    ...(chromePath && { executablePath: chromePath }),
    args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'],
  })
  let isInTime = true
  try {
    console.log('\nIn the browser: from a key to the new sentence')
    for (const [slowdown, aimMs] of Object.entries(answerAimsMs)) {
      const { medianMs, worstMs } = await keyTimes(browser, port, Number(slowdown))
      if (!(medianMs <= aimMs)) isInTime = false
      console.log(
        `${`${slowdown}× slowdown`.padEnd(58)} ${medianMs.toFixed(1).padStart(8)} ms   worst ${worstMs.toFixed(1)} ms   aim ${aimMs.toFixed(1)} ms`,
      )
    }
    if (!(await printPlanTimes(browser, port))) isInTime = false
    await printWeights(browser, port)
  } finally {
    await browser.close()
    server.close()
  }
  return isInTime
}

/** Times from a key press on the listener to the change of the sentence; the line of the chart changes in the same update. */
async function keyTimes(browser, port, slowdown) {
  const page = await browser.newPage({ viewport: { width: 1280, height: 860 } })
  await page.goto(`http://localhost:${port}/`)
  const client = await page.context().newCDPSession(page)
  await client.send('Emulation.setCPUThrottlingRate', { rate: slowdown })
  await page.locator('.plan canvas').waitFor()
  const times = await page.evaluate(async () => {
    const handle = document.querySelector('.walk [role=slider]')
    const sentence = document.querySelector('.walk .sentence')
    const press = (key) =>
      new Promise((resolve) => {
        const watcher = new MutationObserver(() => {
          watcher.disconnect()
          resolve(performance.now() - start)
        })
        watcher.observe(sentence, { characterData: true, childList: true, subtree: true })
        const start = performance.now()
        handle.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true }))
      })
    const all = []
    for (let round = 0; round < 43; round++) {
      all.push(await press(round % 8 < 4 ? 'ArrowUp' : 'ArrowDown'))
      await new Promise((resolve) => setTimeout(resolve, 60))
    }
    return all
  })
  await page.close()
  const sorted = times.slice(3).sort((a, b) => a - b)
  return { medianMs: sorted[Math.floor(sorted.length / 2)], worstMs: sorted.at(-1) }
}

/** Compressed script that each page's own thread asks for: at load, with its figures in view, and after the first press. */
async function printWeights(browser, port) {
  console.log('\nScript that a page loads, gzip; its workers’ and what the other pages need are not in it')
  for (const path of ['/', '/lessons/walk-round-the-back/', '/answers/why-more-bass-behind/', '/plan/', '/evidence/']) {
    const page = await browser.newPage({ viewport: { width: 1280, height: 860 } })
    const weight = async () => {
      await page.waitForLoadState('networkidle')
      const files = await page.evaluate(() =>
        [...new Set(performance.getEntriesByType('resource').map(({ name }) => name))].filter(
          (name) => name.endsWith('.js') && !name.includes('.worker'),
        ),
      )
      const bodies = await Promise.all(files.map(async (file) => (await page.request.get(file)).body()))
      return `${(bodies.reduce((sum, body) => sum + gzipSync(body).length, 0) / 1000).toFixed(1)} kB`
    }
    await page.goto(`http://localhost:${port}${path}`)
    const atLoad = await weight()
    await page.evaluate(async () => {
      for (const island of document.querySelectorAll('astro-island')) {
        island.firstElementChild?.scrollIntoView({ behavior: 'instant' })
        await new Promise((resolve) => setTimeout(resolve, 300))
      }
    })
    const inView = await weight()
    const play = page.locator('.place-switch button:visible')
    if (await play.count()) await play.first().click()
    console.log(`${path.padEnd(36)} at load ${atLoad}, figures in view ${inView}, after play ${await weight()}`)
    await page.close()
  }
}

if (process.argv[1] === import.meta.filename) {
  const folder = join(projectRoot, process.argv[2] ?? 'dist')
  if (!(await printInBrowser(folder, (await browserEnvironment())?.CHROMIUM_PATH))) process.exitCode = 1
}
