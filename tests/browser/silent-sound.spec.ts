// What a reader is told when the sound cannot be made, does not start or is taken away; and that it can be had again.
import { expect, type Page } from '@playwright/test'
import { player, wakeFigures } from './page-checks.ts'
import { test } from './test.ts'

type Answer = 'real' | 'fail' | 'never'
/** What the page's browser does instead of what it can, and every live context that it has been asked for. */
type SoundSwitches = {
  resume: Answer
  rendering: Answer
  responses: Answer
  contexts: AudioContext[]
  /** How often each has been asked for. */
  asked: { resume: number; responses: number }
}
declare global {
  interface Window {
    soundSwitches: SoundSwitches
  }
}

test.describe.configure({ timeout: 180_000 })
const patience = { timeout: 30_000 }

/** Opens the walk-round with switches on whatever the sound waits for. */
async function open(page: Page, path = '/embed/walk-round/') {
  await page.addInitScript(() => {
    const switches: SoundSwitches = {
      resume: 'real',
      rendering: 'real',
      responses: 'real',
      contexts: [],
      asked: { resume: 0, responses: 0 },
    }
    window.soundSwitches = switches
    window.AudioContext = new Proxy(window.AudioContext, {
      construct(target, parameters: [AudioContextOptions?]) {
        const context = new target(...parameters)
        switches.contexts.push(context)
        return context
      },
    })
    const instead = <T>(answer: Answer, real: () => Promise<T>): Promise<T> => {
      if (answer === 'real') return real()
      return answer === 'fail' ? Promise.reject(new Error('not today')) : new Promise(() => {})
    }
    const { resume } = AudioContext.prototype
    AudioContext.prototype.resume = function () {
      switches.asked.resume += 1
      return instead(switches.resume, () => resume.call(this))
    }
    const { startRendering } = OfflineAudioContext.prototype
    OfflineAudioContext.prototype.startRendering = function () {
      return instead(switches.rendering, () => startRendering.call(this))
    }
    const { postMessage } = Worker.prototype
    Worker.prototype.postMessage = function (message: { id: number; task?: string }, ...rest: never[]) {
      const isForSound = message.task?.endsWith('Responses')
      if (isForSound) switches.asked.responses += 1
      if (!isForSound || switches.responses === 'real') return postMessage.call(this, message, ...rest)
      if (switches.responses === 'fail')
        queueMicrotask(() =>
          this.dispatchEvent(new MessageEvent('message', { data: { id: message.id, error: 'not today' } })),
        )
    }
  })
  await page.goto(path)
  await wakeFigures(page)
}

const turn = (page: Page, to: Partial<Pick<SoundSwitches, 'resume' | 'rendering' | 'responses'>>) =>
  page.evaluate((wanted) => {
    Object.assign(window.soundSwitches, wanted)
  }, to)
/** Waits until something is asked for: only then does its limit run, and a clock that is put on finds it. */
const untilAsked = (page: Page, what: keyof SoundSwitches['asked']) =>
  expect.poll(() => page.evaluate((name) => window.soundSwitches.asked[name], what), patience).toBeGreaterThan(0)
const states = (page: Page) => page.evaluate(() => window.soundSwitches.contexts.map(({ state }) => state))
const sound = player
const here = (page: Page) => page.locator('.figure .place-switch .here')
const told = (page: Page) => sound(page).getByRole('status')
/** The bar comes with the first press; a press that is let go again brings it and plays nothing for long. */
async function bringBar(page: Page) {
  await here(page).click()
  await expectPlaying(page)
  await here(page).click()
  await expect(here(page)).toHaveAttribute('aria-pressed', 'false')
}
const again = (page: Page) => told(page).getByRole('button', { name: 'try again' })

async function expectPlaying(page: Page) {
  await expect(here(page)).toHaveAttribute('aria-pressed', 'true', patience)
  await expect.poll(async () => (await states(page)).at(-1), patience).toBe('running')
  await expect(again(page)).toHaveCount(0)
}
async function expectSilent(page: Page, words: RegExp, wait = patience) {
  await expect(told(page)).toContainText(words, wait)
  await expect(here(page)).toHaveAttribute('aria-pressed', 'false')
  await expect(here(page)).toBeEnabled()
}

test('music plays and stops where a rendering cannot be halted and a parameter cannot be held', async ({ page }) => {
  // What Firefox lacks of Web Audio.
  await page.addInitScript(() => {
    for (const name of ['suspend', 'resume']) Reflect.deleteProperty(OfflineAudioContext.prototype, name)
    Reflect.deleteProperty(AudioParam.prototype, 'cancelAndHoldAtTime')
  })
  await open(page, '/embed/walk-round/?walk.v=1&walk.signal=music')
  await turn(page, { resume: 'fail' })
  await here(page).click()
  // The whole loop is made at once there, every note of it in every sample: 20 s with nothing beside it.
  await expectSilent(page, /The sound does not start/, { timeout: 90_000 })
  await turn(page, { resume: 'real' })
  await again(page).click()
  await expectPlaying(page)
  await sound(page).getByRole('button', { name: '■ stop', exact: true }).click()
  await expect(here(page)).toHaveAttribute('aria-pressed', 'false')
  await expect.poll(() => states(page), patience).toEqual(['suspended'])
})

test('music that cannot be made is told; the message goes with the signal, no context stays, and it can be tried again', async ({
  page,
}) => {
  await open(page, '/embed/walk-round/?walk.v=1&walk.signal=music')
  await turn(page, { rendering: 'fail' })
  await here(page).click()
  await expectSilent(page, /The music could not be made\. \(not today\)/)
  await expect.poll(() => states(page), patience).toEqual(['closed'])
  await sound(page).getByLabel('pink noise').check()
  await expect(told(page)).not.toContainText('music')
  await here(page).click()
  await expectPlaying(page)

  await sound(page).getByLabel('music').check()
  await expect(told(page)).toContainText('The music could not be made', patience)
  // The noise goes on.
  await expect(here(page)).toHaveAttribute('aria-pressed', 'true')
  await again(page).click()
  await expect(told(page)).toContainText('The music could not be made', patience)
  await sound(page).getByLabel('speech-like').check()
  await expect(told(page)).not.toContainText('music', patience)
  await sound(page).getByLabel('music').check()
  await expect(again(page)).toBeVisible(patience)
  await turn(page, { rendering: 'real' })
  await again(page).click()
  await expect(again(page)).toHaveCount(0, patience)
  await expectPlaying(page)
  expect(await states(page)).toEqual(['closed', 'running'])
})

test('music that never comes is given up, and the sound before goes on', async ({ page }) => {
  await page.clock.install()
  await open(page)
  await here(page).click()
  await expectPlaying(page)
  await turn(page, { rendering: 'never' })
  await sound(page).getByLabel('music').check()
  await expect(told(page)).toContainText('making the sound', patience)
  await page.clock.fastForward('02:00')
  await expect(told(page)).toContainText('Making the music took longer than', patience)
  await expect(here(page)).toHaveAttribute('aria-pressed', 'true')
  await turn(page, { rendering: 'real' })
  await again(page).click()
  await expect(again(page)).toHaveCount(0, patience)
  await expectPlaying(page)
})

test('responses that cannot be computed are told; no context stays, and they can be tried again', async ({ page }) => {
  await open(page)
  await turn(page, { responses: 'fail' })
  await here(page).click()
  const notMade = /The sound of the two places could not be made\. \(not today\)/
  await expectSilent(page, notMade)
  for (let time = 0; time < 2; time++) {
    await again(page).click()
    await expectSilent(page, notMade)
  }
  await expect.poll(() => states(page), patience).toEqual(['closed', 'closed', 'closed'])
  await turn(page, { responses: 'real' })
  await again(page).click()
  await expectPlaying(page)

  // Later ones: the sound before goes on.
  await turn(page, { responses: 'fail' })
  await page.getByRole('slider', { name: /^Listener/ }).focus()
  await page.keyboard.press('ArrowRight')
  await expect(told(page)).toContainText(notMade, patience)
  await expect(here(page)).toHaveAttribute('aria-pressed', 'true')
  await turn(page, { responses: 'real' })
  await again(page).click()
  await expectPlaying(page)
})

test('responses that never come are given up, at the first press and later', async ({ page }) => {
  await page.clock.install()
  await open(page)
  await turn(page, { responses: 'never' })
  await here(page).click()
  await expect(told(page)).toContainText('making the sound', patience)
  await untilAsked(page, 'responses')
  await page.clock.fastForward('05:00')
  await expectSilent(page, /The sound of the two places could not be made|took longer than/)
  await turn(page, { responses: 'real' })
  await again(page).click()
  await expectPlaying(page)
})

for (const answer of ['fail', 'never'] as const) {
  test(`a context that does not wake (${answer}) is told; the button does not say playing`, async ({ page }) => {
    await page.clock.install()
    await open(page)
    await turn(page, { resume: answer })
    await here(page).click()
    if (answer === 'never') {
      await untilAsked(page, 'resume')
      await expect(here(page)).toHaveAttribute('aria-pressed', 'false')
      await page.clock.fastForward('00:10')
    }
    await expectSilent(page, /The sound does not start\. See that headphones or a loudspeaker are connected/)
    await turn(page, { resume: 'real' })
    await again(page).click()
    await expectPlaying(page)
    // The context was there already.
    expect(await states(page)).toEqual(['running'])
  })
}

test('a sound that is taken away while it plays is told, and comes back when the reader wants it', async ({ page }) => {
  await open(page)
  await here(page).click()
  await expectPlaying(page)
  await page.evaluate(() => window.soundSwitches.contexts[0]?.suspend())
  await expectSilent(page, /The sound has stopped: the browser or the device has taken it away/)
  await again(page).click()
  await expectPlaying(page)
  expect(await states(page)).toEqual(['running'])

  await page.evaluate(() => window.soundSwitches.contexts[0]?.close())
  await expectSilent(page, /The sound has stopped/)
  await again(page).click()
  await expectPlaying(page)
  expect(await states(page)).toEqual(['closed', 'running'])

  // A press on a button of the sound is as good as the one beside the message.
  await page.evaluate(() => window.soundSwitches.contexts[1]?.suspend())
  await expectSilent(page, /The sound has stopped/)
  await here(page).click()
  await expectPlaying(page)
})

test('sound code that does not come is told, and fetched when it is tried again', async ({ page }) => {
  await page.clock.install()
  await open(page)
  let blocked = true
  const held: (() => Promise<void>)[] = []
  await page.route(/\/audition\.[^/]*\.js/, async (route) => {
    if (blocked) held.push(() => route.abort())
    else await route.continue()
  })
  await here(page).click()
  await expect.poll(() => held.length, patience).toBeGreaterThan(0)
  await page.clock.fastForward('00:40')
  await expectSilent(page, /The sound could not be loaded/)
  blocked = false
  for (const end of held) await end()
  await again(page).click()
  await expectPlaying(page)
})

test('the ladder of test tones says when nothing is heard', async ({ page }) => {
  await open(page)
  await bringBar(page)
  await page.getByText('Can this device make bass?').click()
  const tone = page.getByRole('button', { name: /^1,?000\s?Hz|^1\s?kHz/ })
  const alert = page.locator('.ladder').getByRole('alert')
  await turn(page, { resume: 'fail' })
  await tone.click()
  await expect(alert).toContainText('The sound does not start', patience)
  await expect(tone).toHaveAttribute('aria-pressed', 'false')
  await turn(page, { resume: 'real' })
  await alert.getByRole('button', { name: 'try again' }).click()
  await expect(tone).toHaveAttribute('aria-pressed', 'true', patience)
  await expect(alert).toHaveCount(0)
  await page.evaluate(() => window.soundSwitches.contexts[1]?.close())
  await expect(alert).toContainText('The sound has stopped', patience)
  await expect(tone).toHaveAttribute('aria-pressed', 'false')
  await tone.click()
  await expect(tone).toHaveAttribute('aria-pressed', 'true', patience)
  // Its context is one of its own.
  expect((await states(page)).slice(1)).toEqual(['closed', 'running'])
})

for (const { region, play, playing } of [
  { region: 'Equal-loudness contours', play: '▶ 50 Hz at 90 dB', playing: '▶ 50 Hz at 90 dB' },
  { region: 'Match tones by ear', play: '▶ play', playing: '■ stop' },
]) {
  test(`${region}: says when no tone is heard`, async ({ page }) => {
    await open(page, '/embed/equal-loudness/')
    const figure = page.getByRole('region', { name: region, exact: true })
    const told = figure.getByRole('status').filter({ hasText: 'The sound' })
    const pressed = figure.getByRole('button', { name: playing, pressed: true })
    await turn(page, { resume: 'fail' })
    await figure.getByRole('button', { name: play, exact: true }).click()
    await expect(told).toContainText('The sound does not start', patience)
    await expect(pressed).toHaveCount(0)
    await turn(page, { resume: 'real' })
    await told.getByRole('button', { name: 'try again' }).click()
    await expect(pressed).toBeVisible(patience)
    await expect(told).toHaveCount(0)
    await page.evaluate(() => window.soundSwitches.contexts[0]?.close())
    // The short tone may have ended by itself just before.
    await figure.getByRole('button', { name: play, exact: true }).or(told).first().waitFor(patience)
    await expect(pressed).toHaveCount(0, patience)
  })
}

test('the blind comparison says when nothing is heard, and the same trial goes on', async ({ page }) => {
  await open(page, '/embed/blind-comparison/?blind.trials=5&blind.seed=7')
  await page.getByRole('button', { name: 'begin stage 1', exact: true }).click()
  const trial = page.getByRole('group', { name: 'Stage 1, trial 1 of 5' })
  const hearA = trial.getByRole('button', { name: '▶ hear A' })
  const answer = trial.getByRole('button', { name: /^A is/ })
  const again = trial.getByRole('button', { name: 'try again' })
  await expect(hearA).toBeVisible(patience)
  await turn(page, { resume: 'fail' })
  await hearA.click()
  await expect(trial).toContainText('The sound does not start', patience)
  await expect(hearA).toHaveAttribute('aria-pressed', 'false')
  // What was not heard cannot be answered.
  await expect(answer).toBeDisabled()
  await turn(page, { resume: 'real' })
  await again.click()
  await expect(hearA).toHaveAttribute('aria-pressed', 'true', patience)
  await expect(answer).toBeEnabled()
  await page.evaluate(() => window.soundSwitches.contexts[0]?.close())
  await expect(trial).toContainText('The sound has stopped', patience)
  await expect(hearA).toHaveAttribute('aria-pressed', 'false')
  await again.click()
  await expect(hearA).toHaveAttribute('aria-pressed', 'true', patience)
  expect(await states(page)).toEqual(['closed', 'running'])
})
