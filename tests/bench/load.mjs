// What many readers at once are to the built site behind nginx on loopback: node tests/bench/load.mjs, or as a part of npm run bench.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import autocannon from 'autocannon'
import { browserEnvironment } from '../../src/tools/browser.mjs'
import { projectRoot } from '../../src/tools/set-up.mjs'
import { startNginx } from '../nginx-here.ts'

/** Pages that links lead to. */
const pages = [
  '/',
  '/answers/why-more-bass-behind/',
  '/answers/why-is-our-table-boomy/',
  '/lessons/walk-round-the-back/',
]
/** The rate that README.md states, requests a second, for so long, over so many connections; and how soon 99 of 100 have their answer. */
const [requestsPerS, durationS, connections, answeredInMs] = [1000, 10, 50, 100]

/** Every file that the pages name: what a first visit asks for, and code that comes with the first figure. */
function filesOf(folder) {
  const named = pages.flatMap((path) => {
    const html = readFileSync(join(folder, path, 'index.html'), 'utf8')
    return [
      path,
      ...[...html.matchAll(/(?:href|src|component-url|renderer-url)="(\/[^"#?]+\.\w+)"/g)].map(([, file]) => file),
    ]
  })
  return [...new Set(named)]
}

/**
 * Asks for all that a first visit of some pages fetches, at the stated rate and then as fast as it goes, and prints what came.
 *
 * @param folder   the built site
 * @param program  path of nginx
 * @returns        whether the stated rate was held: every answer 200, and nearly all in time
 */
export async function printLoad(folder, program) {
  const { origin, stop } = await startNginx(program, folder, 4370)
  try {
    const requests = filesOf(folder).map((path) => ({ path, headers: { 'accept-encoding': 'gzip' } }))
    const ask = (options) => autocannon({ url: origin, connections, duration: durationS, requests, ...options })
    const steady = await ask({ overallRate: requestsPerS })
    const fastest = await ask({})
    console.log(
      `\nBehind nginx, one process: ${requests.length} files of ${pages.length} pages over ${connections} connections, ${durationS} s`,
    )
    for (const [what, { requests: rate, latency, throughput, non2xx, errors }] of [
      [`at ${requestsPerS} requests a second`, steady],
      ['as fast as it goes', fastest],
    ])
      console.log(
        `${what.padEnd(34)} ${rate.average.toFixed(0)} answers a second, ${(throughput.average / 1e6).toFixed(1)} MB/s, ` +
          `99 of 100 within ${latency.p99} ms, ${non2xx + errors} failed`,
      )
    return (
      steady.non2xx + steady.errors === 0 &&
      steady.requests.average > 0.98 * requestsPerS &&
      steady.latency.p99 <= answeredInMs
    )
  } finally {
    await stop()
  }
}

if (process.argv[1] === import.meta.filename) {
  const folder = join(projectRoot, process.argv[2] ?? 'dist')
  const { NGINX_PATH } = (await browserEnvironment()) ?? {}
  if (NGINX_PATH && !(await printLoad(folder, NGINX_PATH))) process.exitCode = 1
}
