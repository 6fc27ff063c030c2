// npm test: set up, then every check there is. The last line counts over all of them: "N passed, N failed".
import { mkdirSync, readFileSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { stripVTControlCharacters } from 'node:util'
import { browserEnvironment } from './browser.mjs'
import { freePort, projectRoot, run, runQuietly, setUp } from './set-up.mjs'

await setUp()
const results = join(projectRoot, 'tests', 'results')
rmSync(results, { recursive: true, force: true })
mkdirSync(results, { recursive: true })

let passed = 0
let failed = 0
/** What failed, in the words that its runner gave, said again at the end of a long output. */
const faults = []

// Whatever uses one core has another work beside it, whose words come when it is done.
if ((await run('astro', ['sync', '--silent'])) !== 0) fail('astro sync')
await Promise.all([
  step('type check of pages', ['astro', 'check', '--minimumFailingSeverity', 'warning', '--noSync']),
  step('type check of components', [
    'svelte-check',
    ...['--fail-on-warnings', '--threshold', 'warning', '--output', 'human'],
  ]),
])
const builds = buildAll()
await step('lint and format', ['biome', 'check', '--error-on-warnings', '.'])
await step('format of pages and components', ['prettier', '--check', '{src,tests}/**/*.{svelte,astro}'])
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
const built = await builds
const browser = built && (await browserEnvironment())
if (browser) {
  // A site that is being served beside this, or another test, keeps its port.
  const port = await freePort(Number(process.env.PORT ?? 4399))
  await suite('browser tests', 'playwright.json', (file) =>
    run('playwright', ['test', '--config', 'tests/playwright.config.ts', '--reporter=list,json'], {
      env: {
        ...browser,
        SITE_FOR_TESTS: '1',
        PORT: String(port),
        PLAYWRIGHT_JSON_OUTPUT_NAME: file,
        PLAYWRIGHT_JSON_OUTPUT_FILE: file,
      },
    }),
  )
} else {
  fail('browser tests: not run')
}

if (faults.length) console.log(`\n— what failed\n${faults.map((fault) => `✗ ${fault}`).join('\n')}`)
console.log(`\n${passed} passed, ${failed} failed`)
process.exitCode = failed === 0 && passed > 0 ? 0 : 1

/** The site in its languages, then in one of its own: what still reads as English there has not gone through a message. */
async function buildAll() {
  const build = ['astro', 'build', '--silent']
  const site = await step('build of the site', build, { SITE_FOR_TESTS: '1' })
  const pseudo = await step('build of the site in the pseudo-language', build, {
    SITE_FOR_TESTS: '1',
    SITE_LANGUAGE: 'pseudo',
  })
  return site && pseudo
}

/** A check that passes or fails as one; what it says is shown when it is done. */
async function step(title, [tool, ...args], env = {}) {
  const beganMs = performance.now()
  const { code, said } = await runQuietly(tool, args, { env })
  const good = code === 0
  if (good) passed += 1
  else fail(title)
  console.log(`\n— ${title}\n${said}${good ? '✓' : '✗'} ${title}, ${seconds(beganMs)}`)
  return good
}

/** A runner with many tests that writes its counts into a file; a runner that fails without counts is one failure. */
async function suite(title, fileName, work) {
  console.log(`\n— ${title}`)
  const file = join(results, fileName)
  const beganMs = performance.now()
  const code = await work(file)
  console.log(`${title}: ${seconds(beganMs)}`)
  let tests = []
  try {
    tests = testsIn(JSON.parse(readFileSync(file, 'utf8')))
  } catch {
    console.log(`${title}: no result was written`)
  }
  const bad = tests.filter((test) => !test.good)
  for (const test of bad) fail(`${test.name}\n${test.said}`)
  passed += tests.length - bad.length
  if (bad.length === 0 && (code !== 0 || tests.length === 0)) fail(`${title}: ended with code ${code}`)
}

function fail(fault) {
  failed += 1
  faults.push(fault)
}

/** The tests in the JSON that Vitest or Playwright writes. One that is flaky, skipped or yet to be written is not good. */
function testsIn(report) {
  if (report.suites) return specsIn(report.suites)
  return report.testResults.flatMap((file) =>
    // A file that does not load has no test that could fail.
    file.status === 'failed' && !file.assertionResults.some((test) => test.status === 'failed')
      ? [{ name: file.name, good: false, said: briefly([file.message]) }]
      : file.assertionResults.map((test) => ({
          name: test.fullName,
          good: test.status === 'passed',
          said: briefly(test.failureMessages ?? []),
        })),
  )
}

function specsIn(suites) {
  return suites.flatMap((suite) => [
    ...specsIn(suite.suites ?? []),
    ...suite.specs.flatMap((spec) =>
      spec.tests.map((test) => ({
        name: `${spec.file}:${spec.line} ${spec.title}`,
        good: test.status === 'expected',
        said: briefly(test.results.map((result) => result.error?.message ?? result.status)),
      })),
    ),
  ])
}

function briefly(said) {
  return said.map((words) => stripVTControlCharacters(words).split('\n').slice(0, 12).join('\n')).join('\n')
}

function seconds(sinceMs) {
  return `${Math.round((performance.now() - sinceMs) / 1000)} s`
}
