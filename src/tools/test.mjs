// npm test: set up, then every check there is. The last line counts over all of them: "N passed, N failed".
import { mkdirSync, readFileSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { browserEnvironment } from './browser.mjs'
import { projectRoot, run, setUp } from './set-up.mjs'

await setUp()
const results = join(projectRoot, 'tests', 'results')
rmSync(results, { recursive: true, force: true })
mkdirSync(results, { recursive: true })

let passed = 0
let failed = 0

await step('type check of pages', () => run('astro', ['check', '--minimumFailingSeverity', 'warning', '--noSync']), {
  before: () => run('astro', ['sync', '--silent']),
})
await step('type check of components', () =>
  run('svelte-check', ['--fail-on-warnings', '--threshold', 'warning', '--output', 'human']),
)
await step('lint and format', () => run('biome', ['check', '--error-on-warnings', '.']))
await step('format of pages and components', () => run('prettier', ['--check', '{src,tests}/**/*.{svelte,astro}']))
await suite('unit and evidence tests', 'vitest.json', (file) =>
  run('vitest', [
    'run',
    '--config',
    'tests/vitest.config.ts',
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${file}`,
  ]),
)
const built = await step('build of the site', () =>
  run('astro', ['build', '--silent'], { env: { SITE_FOR_TESTS: '1' } }),
)
// In a language of its own: what still reads as English there has not gone through a message.
const pseudo = await step('build of the site in the pseudo-language', () =>
  run('astro', ['build', '--silent'], { env: { SITE_FOR_TESTS: '1', SITE_LANGUAGE: 'pseudo' } }),
)
const browser = built && pseudo && (await browserEnvironment())
if (browser) {
  await suite('browser tests', 'playwright.json', (file) =>
    run('playwright', ['test', '--config', 'tests/playwright.config.ts', '--reporter=list,json'], {
      env: { ...browser, SITE_FOR_TESTS: '1', PLAYWRIGHT_JSON_OUTPUT_NAME: file, PLAYWRIGHT_JSON_OUTPUT_FILE: file },
    }),
  )
} else {
  failed += 1
  console.log('✗ browser tests: not run')
}

console.log(`\n${passed} passed, ${failed} failed`)
process.exitCode = failed === 0 && passed > 0 ? 0 : 1

/** A check that passes or fails as one. */
async function step(title, work, { before } = {}) {
  console.log(`\n— ${title}`)
  const good = (before ? (await before()) === 0 : true) && (await work()) === 0
  if (good) passed += 1
  else failed += 1
  console.log(`${good ? '✓' : '✗'} ${title}`)
  return good
}

/** A runner with many tests that writes its counts into a file; a runner that fails without counts is one failure. */
async function suite(title, fileName, work) {
  console.log(`\n— ${title}`)
  const file = join(results, fileName)
  const code = await work(file)
  let counts = { passed: 0, failed: 0 }
  try {
    counts = countsIn(JSON.parse(readFileSync(file, 'utf8')))
  } catch {
    console.log(`${title}: no result was written`)
  }
  if (code !== 0 && counts.failed === 0) counts.failed = 1
  if (code === 0 && counts.passed === 0) counts.failed = 1
  passed += counts.passed
  failed += counts.failed
}

/** Counts from the JSON that Vitest or Playwright writes. A flaky or skipped browser test counts as failed. */
function countsIn(report) {
  if (report.stats)
    return {
      passed: report.stats.expected,
      failed: report.stats.unexpected + report.stats.flaky + report.stats.skipped,
    }
  return { passed: report.numPassedTests, failed: report.numFailedTests + report.numPendingTests + report.numTodoTests }
}
