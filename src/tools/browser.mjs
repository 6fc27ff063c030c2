// Finds the Chromium that the browser tests drive, or gets one.
import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { delimiter, join } from 'node:path'
import { run, toolEnvironment } from './set-up.mjs'

const names = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome.exe']
const places = [
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
]

/** Path of an installed Chromium or Chrome, or undefined. CHROMIUM_PATH names one by hand. */
function installedBrowser() {
  if (process.env.CHROMIUM_PATH) return process.env.CHROMIUM_PATH
  const folders = (process.env.PATH ?? '').split(delimiter)
  return [...names.flatMap((name) => folders.map((folder) => join(folder, name))), ...places].find((file) =>
    existsSync(file),
  )
}

/**
 * Resolves to the environment that points Playwright at a browser: an installed one; else, on Debian as root, the
 * chromium package; else Playwright's own download; else undefined after a clear message.
 */
export async function browserEnvironment() {
  const installed = installedBrowser()
  if (installed) return { CHROMIUM_PATH: installed }
  if (existsSync('/etc/debian_version') && process.getuid?.() === 0) {
    console.log('Installing the chromium package for the browser tests …')
    const quiet = { stdio: ['ignore', 'ignore', 'inherit'], env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } }
    spawnSync('apt-get', ['update', '-qq'], quiet)
    spawnSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'chromium'], quiet)
    const fresh = installedBrowser()
    if (fresh) return { CHROMIUM_PATH: fresh }
  }
  console.log('Downloading a browser for the tests …')
  if ((await run('playwright', ['install', 'chromium'], { env: toolEnvironment() })) === 0) return {}
  console.error(
    'The browser tests need Chromium or Chrome. Install one, or name it: CHROMIUM_PATH=/path/to/chromium npm test',
  )
  return undefined
}
