// Finds the Chromium that the browser tests drive, or gets one.
import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { delimiter, join } from 'node:path'
import { run, toolEnvironment } from './set-up.mjs'

/** The browser without its window: the same engine at half the work. */
const shell = 'chromium-headless-shell'
const names = [shell, 'chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome.exe']
const places = [
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
]

const onPath = (name) =>
  (process.env.PATH ?? '')
    .split(delimiter)
    .map((folder) => join(folder, name))
    .find((file) => existsSync(file))

/** Path of an installed Chromium or Chrome, or undefined. CHROMIUM_PATH names one by hand. */
function installedBrowser() {
  const installed = names.map(onPath).find((file) => file !== undefined)
  return process.env.CHROMIUM_PATH ?? installed ?? places.find((file) => existsSync(file))
}

/**
 * Resolves to the environment that points Playwright at a browser: the one that CHROMIUM_PATH names; on Debian as root the
 * chromium-headless-shell package, installed if need be; else any that is installed; else Playwright's own download; else
 * undefined after a clear message. Firefox is pointed at where it is installed, as root on Debian always.
 */
export async function browserEnvironment() {
  const mayInstall = existsSync('/etc/debian_version') && process.getuid?.() === 0
  if (!process.env.CHROMIUM_PATH && mayInstall) installOneOf([shell, 'chromium'])
  if (!process.env.FIREFOX_PATH && mayInstall) installOneOf(['firefox-esr'])
  const firefox = process.env.FIREFOX_PATH ?? ['firefox-esr', 'firefox'].map(onPath).find((file) => file !== undefined)
  if (!firefox) console.log('Firefox is not installed: its tests are left out. FIREFOX_PATH names one.')
  const second = firefox ? { FIREFOX_PATH: firefox } : {}
  const installed = installedBrowser()
  if (installed) return { CHROMIUM_PATH: installed, ...second }
  console.log('Downloading a browser for the tests …')
  if ((await run('playwright', ['install', 'chromium'], { env: toolEnvironment() })) === 0) return second
  console.error(
    'The browser tests need Chromium or Chrome. Install one, or name it: CHROMIUM_PATH=/path/to/chromium npm test',
  )
  return undefined
}

/** Installs the first of some Debian packages that can be, unless one is there. */
function installOneOf(wanted) {
  for (const name of wanted) {
    if (onPath(name)) return
    console.log(`Installing the ${name} package for the browser tests …`)
    installPackage(name)
  }
}

/** Installs a Debian package; what fails shows in that it is not there. */
function installPackage(name) {
  const quiet = { stdio: ['ignore', 'ignore', 'inherit'], env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } }
  spawnSync('apt-get', ['update', '-qq'], quiet)
  spawnSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', name], quiet)
}
