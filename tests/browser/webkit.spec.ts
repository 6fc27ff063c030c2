// The main paths in WebKit, where WebKitGTK's driver and its small browser are installed (WEBKIT_DRIVER_PATH, WEBKIT_BROWSER_PATH): the
// engine of every browser on iPhones. Its window does not go below 447 px.
import { type ChildProcess, spawn } from 'node:child_process'
import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import type { Server } from 'node:http'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect } from '@playwright/test'
import { serve } from '../../src/tools/serve.mjs'
import { answers } from './built-pages.ts'
import { presses, wakesAll, writes } from './in-page.ts'
import { hasOpenedAll, port } from './readers.ts'
import { serveRecorded } from './recorded-site.ts'
import { test } from './test.ts'
import { openWebKit, type WebDriverPage } from './web-driver.ts'

const [driver, browser] = [process.env['WEBKIT_DRIVER_PATH'], process.env['WEBKIT_BROWSER_PATH']]
/** Without a sound device live sound stands still; this one plays into nothing. */
const pulseaudio = process.env['PULSEAUDIO_PATH']
const origin = `http://localhost:${port + 60}`

let page: WebDriverPage
let site: Server
let sound: { program: ChildProcess; folder: string; socket: string } | undefined

/** Opens a page with every figure awake. */
const open = async (path: string, at = origin) => {
  await page.goto(at + path)
  await page.until(wakesAll)
  await page.until(() => document.readyState === 'complete')
  await page.evaluate(() => scrollTo({ top: 0, behavior: 'instant' }))
}
const textOf = (selector: string) =>
  page.evaluate((of) => document.querySelector(of)?.textContent?.trim() ?? '', selector)
/** Waits until what a part says is another than before, and told of what is set. */
const untilTold = async (selector: string, before: string) => {
  await page.until(
    (of, old) => !document.querySelector('.told.old') && document.querySelector(of)?.textContent?.trim() !== old,
    selector,
    before,
  )
  return textOf(selector)
}
/** Presses the button in a part of the page whose words begin so, once it is there. */
const press = (part: string, words: string) => page.until(presses, part, words)
const expectNothingSaid = async (where: string) => expect(await page.evaluate(() => window.heard), where).toEqual([])

function startSound(program: string) {
  const folder = mkdtempSync(join(tmpdir(), 'round-the-back-sound-'))
  const socket = join(folder, 'socket')
  const loads = ['module-null-sink', `module-native-protocol-unix auth-anonymous=1 socket=${socket}`]
  const options = ['-n', '--daemonize=no', '--exit-idle-time=-1', '--use-pid-file=no', '--disable-shm=yes']
  return {
    folder,
    socket,
    program: spawn(program, [...options, ...loads.flatMap((load) => ['-L', load])], {
      stdio: 'ignore',
      env: { ...process.env, HOME: folder, XDG_RUNTIME_DIR: folder },
    }),
  }
}

if (driver && browser) {
  // One after the other: the driver takes one session.
  test.describe.configure({ mode: 'default', timeout: 300_000 })
  test.beforeAll(async () => {
    site = await serveRecorded(port + 60)
    if (pulseaudio) {
      sound = startSound(pulseaudio)
      const { socket } = sound
      await expect.poll(() => existsSync(socket)).toBe(true)
    }
    const env = sound && { PULSE_SERVER: `unix:${sound.socket}` }
    page = await openWebKit({ driver, browser, port: port + 61, ...(env && { env }) })
    await page.setSize(1280, 900)
  })
  test.afterAll(async () => {
    await page?.close()
    site?.close()
    site?.closeAllConnections()
    sound?.program.kill()
    if (sound) rmSync(sound.folder, { recursive: true, force: true })
  })
  test.beforeEach(async () => {
    // What stands behind a guess is open, as for the readers of the other tests.
    await page.goto(`${origin}/safety/`)
    await page.evaluate((kept) => {
      localStorage.clear()
      for (const [name, text] of Object.entries(kept)) localStorage.setItem(name, text)
    }, hasOpenedAll)
  })

  test('the recorder hears what a page says, and what it throws', async () => {
    await page.goto(`${origin}/safety/`)
    await page.evaluate(() => {
      console.warn('mind the step')
      setTimeout(() => {
        throw new Error('a step was missed')
      })
    })
    await page.until(() => window.heard.length === 2)
    const heard = await page.evaluate(() => window.heard)
    expect(heard[0]).toBe('warn: mind the step')
    expect(heard[1]).toContain('a step was missed')
  })

  test('home: the listener is dragged, no text is selected, the sentence follows; a link brings it back', async () => {
    await open('/')
    const before = await textOf('.sentence')
    await page.drag('svg [role=slider] .head', { x: 60, y: 90 })
    const moved = await untilTold('.sentence', before)
    expect(await page.evaluate(() => String(getSelection()))).toBe('')
    expect(await page.evaluate(() => document.activeElement?.getAttribute('role'))).toBe('slider')
    await page.until(() => location.search.includes('walk.'))
    const { pathname, search } = new URL(await page.address())
    await expectNothingSaid('/')
    await open('/safety/')
    await open(pathname + search)
    await page.until((wanted) => document.querySelector('.sentence')?.textContent?.trim() === wanted, moved)
    await expectNothingSaid(search)
  })

  if (pulseaudio)
    test('home: here and the front are heard, one after the other, and it falls silent again', async () => {
      await open('/')
      for (const end of ['here', 'front']) {
        await page.click(`.place-switch .${end}`)
        await page.until(
          (which) =>
            document.querySelector(`.place-switch .${which}`)?.getAttribute('aria-pressed') === 'true' &&
            document.querySelector('[aria-label="Sound of this page"]')?.textContent?.includes('You hear'),
          end,
        )
      }
      await page.click('.place-switch .front')
      await page.until(() => !document.querySelector('.place-switch [aria-pressed=true]'))
      await expectNothingSaid('/')
    })

  test('every answer and lessons wake without a word on the console', async () => {
    for (const path of [
      ...answers.map((name) => `/answers/${name}/`),
      '/lessons/bass-that-takes-sides/',
      '/lessons/the-hall-fills-the-rest/',
    ]) {
      await open(path)
      expect((await textOf('h1')).length, path).toBeGreaterThan(3)
      await expectNothingSaid(path)
    }
  })

  test('own box: a width that is typed is estimated, then solved, and the link says it', async () => {
    await open('/own-box/')
    const before = await textOf('main .sentence')
    expect(before).toContain('Below about')
    await page.until(writes, 'main', 'width', '0.45')
    const estimated = await untilTold('main .sentence', before)
    await page.until((old) => {
      const now = document.querySelector('main .sentence')?.textContent?.trim() ?? ''
      return !document.querySelector('.told.old') && now !== old && now.startsWith('Below about')
    }, before)
    expect(estimated).not.toBe(before)
    expect(await page.address()).toContain('0.45')
    await expectNothingSaid('/own-box/')
  })

  test('plan: a box that is moved by number changes what the table gets, and undo brings it back', async () => {
    await open('/plan/')
    const before = await textOf('main .sentence')
    expect(before).toContain('Dance floor')
    await page.until(writes, 'main', 'right of the middle', '-4')
    await untilTold('main .sentence', before)
    await page.until(presses, 'main', 'Undo')
    await page.until((wanted) => document.querySelector('main .sentence')?.textContent?.trim() === wanted, before)
    await expectNothingSaid('/plan/')
  })

  test('two microphones: the practice set down to the verdict', async () => {
    await open('/compare/')
    for (const step of ['match', 'quiet', 'sound']) {
      await press(`.step[data-step=${step}]`, 'Use the practice recording')
      await page.until((name) => document.querySelector(`.step[data-step=${name}].done`) !== null, step)
    }
    await page.until(() =>
      document.querySelector('.step.verdict .sentence')?.textContent?.includes('hardly any difference in the bass'),
    )
    await expectNothingSaid('/compare/')
  })

  test('after one visit the site works without a network', async () => {
    const built = join(import.meta.dirname, '../results/site')
    const { server, port: at } = await serve(built, port + 70, { orNext: true })
    const kept = `http://localhost:${at}`
    await page.goto(`${kept}/safety/`)
    await page.until(() => document.querySelector<HTMLElement>('#kept-here')?.hidden === false)
    server.close()
    server.closeAllConnections()
    for (const path of ['/', '/lessons/more-boxes/?x=1', '/plan/']) {
      await open(path, kept)
      expect(await textOf('h1'), path).not.toBe('')
    }
  })
}
