// What Lighthouse says of the built site on a middling phone: node tests/bench/lighthouse.mjs, or as a part of npm run bench. Wants a
// quiet machine: it measures how busy the page's own thread is.
import { join } from 'node:path'
import { launch } from 'chrome-launcher'
import lighthouse from 'lighthouse'
import { browserEnvironment } from '../../src/tools/browser.mjs'
import { freePort, projectRoot } from '../../src/tools/set-up.mjs'
import { serveCompressed } from './compressed-site.mjs'

const pages = ['/', '/lessons/walk-round-the-back/', '/answers/why-more-bass-behind/', '/compare/', '/plan/']
/** What each category has to reach. */
const aims = { performance: 98, accessibility: 100, 'best-practices': 100, seo: 100 }
/** A run is disturbed by whatever else the machine does, so of several the middle one counts. */
const runs = 3

/**
 * Prints the scores of the main pages.
 *
 * @param folder      the built site
 * @param chromePath  the browser; one that is installed if undefined
 * @returns           whether every page reaches every aim
 */
export async function printLighthouse(folder, chromePath) {
  const port = await freePort(4380)
  const server = await serveCompressed(folder, port)
  console.log(`\nLighthouse, mobile, the middle of ${runs} runs`)
  let isReached = true
  try {
    for (const path of pages) {
      const results = []
      for (let run = 0; run < runs; run++) results.push(await oneRun(`http://localhost:${port}${path}`, chromePath))
      results.sort((one, other) => one.categories.performance.score - other.categories.performance.score)
      const { categories, audits } = results[Math.floor(runs / 2)]
      const scores = Object.entries(aims).map(([name, aim]) => {
        const score = Math.round(100 * categories[name].score)
        if (score < aim) isReached = false
        return `${name} ${score}${score < aim ? ` (aim ${aim})` : ''}`
      })
      const times = [
        ['words', 'first-contentful-paint'],
        ['largest', 'largest-contentful-paint'],
        ['busy', 'total-blocking-time'],
        ['shift', 'cumulative-layout-shift'],
      ].map(([name, audit]) => `${name} ${audits[audit].displayValue}`)
      console.log(`${path.padEnd(36)} ${scores.join(', ')}; ${times.join(', ')}`)
    }
  } finally {
    server.close()
  }
  return isReached
}

async function oneRun(address, chromePath) {
  const browser = await launch({
    chromePath,
    chromeFlags: ['--headless', '--no-sandbox', '--disable-gpu', '--disable-background-networking'],
  })
  try {
    const { lhr } = await lighthouse(address, {
      port: browser.port,
      logLevel: 'error',
      onlyCategories: Object.keys(aims),
    })
    return lhr
  } finally {
    browser.kill()
  }
}

if (process.argv[1] === import.meta.filename) {
  const folder = join(projectRoot, process.argv[2] ?? 'dist')
  if (!(await printLighthouse(folder, (await browserEnvironment())?.CHROMIUM_PATH))) process.exitCode = 1
}
