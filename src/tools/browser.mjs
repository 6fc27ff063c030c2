// Finds the Chromium that the browser tests drive, or gets one.
import { spawnSync } from 'node:child_process'
import { existsSync, readdirSync } from 'node:fs'
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
 * undefined after a clear message. Firefox is pointed at where it is installed, as root on Debian always; WebKit and nginx where they are
 * installed, as .ci/run does it: the one is large, and the other's package would begin to serve by itself.
 */
export async function browserEnvironment() {
  const mayInstall = existsSync('/etc/debian_version') && process.getuid?.() === 0
  if (!process.env.CHROMIUM_PATH && mayInstall) installOneOf([shell, 'chromium'])
  if (!process.env.FIREFOX_PATH && mayInstall) installOneOf(['firefox-esr'])
  const firefox = process.env.FIREFOX_PATH ?? ['firefox-esr', 'firefox'].map(onPath).find((file) => file !== undefined)
  if (!firefox) console.log('Firefox is not installed: its tests are left out. FIREFOX_PATH names one.')
  const nginx = process.env.NGINX_PATH ?? onPath('nginx') ?? ['/usr/sbin/nginx'].find((file) => existsSync(file))
  if (!nginx) console.log('nginx is not installed: the test of its configuration is left out. NGINX_PATH names one.')
  const webkit = webKitHere()
  if (!webkit)
    console.log('WebKit is not installed (Debian: webkit2gtk-driver, xvfb, xauth, pulseaudio): its tests are left out.')
  else if (!webkit.PULSEAUDIO_PATH) console.log('pulseaudio is not installed: live sound in WebKit is left out.')
  const second = { ...(firefox && { FIREFOX_PATH: firefox }), ...(nginx && { NGINX_PATH: nginx }), ...webkit }
  const installed = installedBrowser()
  if (installed) return { CHROMIUM_PATH: installed, ...second }
  console.log('Downloading a browser for the tests …')
  if ((await run('playwright', ['install', 'chromium'], { env: toolEnvironment() })) === 0) return second
  console.error(
    'The browser tests need Chromium or Chrome. Install one, or name it: CHROMIUM_PATH=/path/to/chromium npm test',
  )
  return undefined
}

/** The environment that points the tests at WebKitGTK: its driver, its small browser and a screen for them; with a sound device if there is one. */
function webKitHere() {
  const driver = process.env.WEBKIT_DRIVER_PATH ?? onPath('WebKitWebDriver')
  const small = process.env.WEBKIT_BROWSER_PATH ?? smallBrowser()
  if (!driver || !small || !onPath('xvfb-run')) return undefined
  const sound = onPath('pulseaudio')
  return { WEBKIT_DRIVER_PATH: driver, WEBKIT_BROWSER_PATH: small, ...(sound && { PULSEAUDIO_PATH: sound }) }
}

/** WebKitGTK's small browser, which lies beside its library: /usr/lib/<machine>/webkit2gtk-4.1/MiniBrowser. */
function smallBrowser() {
  const entriesOf = (folder) => (existsSync(folder) ? readdirSync(folder).map((name) => join(folder, name)) : [])
  return entriesOf('/usr/lib')
    .filter((folder) => folder.endsWith('-linux-gnu'))
    .flatMap(entriesOf)
    .filter((folder) => /webkit2gtk-4\.\d$/.test(folder))
    .map((folder) => join(folder, 'MiniBrowser'))
    .find((file) => existsSync(file))
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
