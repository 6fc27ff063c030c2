// One sound a page: the bar at its foot, what it says, and what it lets be heard.
import { expect, type Page } from '@playwright/test'
import {
  expectAccessible,
  expectNoSidewaysScroll,
  framesPass,
  hear,
  listen,
  openEverything,
  player,
  wakeFigures,
} from './page-checks.ts'
import { hasReadOn } from './readers.ts'
import { test } from './test.ts'

test.describe.configure({ timeout: 180_000 })

declare global {
  interface Window {
    /** Ears at the output of every live context, in the order in which they were made. */
    ears: AnalyserNode[]
  }
}

/** From now on whatever reaches the output of a context also reaches an ear of the test's own. */
async function putEars(page: Page) {
  await page.addInitScript(() => {
    window.ears = []
    const earOf = new WeakMap<BaseAudioContext, AnalyserNode>()
    const connect = AudioNode.prototype.connect as (this: AudioNode, ...rest: unknown[]) => AudioNode
    AudioNode.prototype.connect = function (this: AudioNode, to: unknown, ...rest: unknown[]) {
      const { context } = this
      if (to === context.destination && context instanceof AudioContext) {
        const ear = earOf.get(context) ?? new AnalyserNode(context, { fftSize: 2048 })
        if (!earOf.has(context)) window.ears.push(ear)
        earOf.set(context, ear)
        connect.call(this, ear)
      }
      return connect.call(this, to, ...rest)
    } as typeof AudioNode.prototype.connect
  })
}
/** Highest sample at each ear in the last 43 ms, dB re full scale; of a context that sleeps nothing. */
const heardDb = (page: Page): Promise<number[]> =>
  page.evaluate(() =>
    window.ears.map((ear) => {
      if (ear.context.state !== 'running') return -200
      const samples = new Float32Array(2048)
      ear.getFloatTimeDomainData(samples)
      return Math.max(-200, 20 * Math.log10(samples.reduce((most, each) => Math.max(most, Math.abs(each)), 0)))
    }),
  )
const soundsAt = async (page: Page, thresholdDb = -100) => (await heardDb(page)).map((level) => level > thresholdDb)

test('an ear test silences the figure, and the figure the ear test: never two sounds at once', async ({ page }) => {
  await putEars(page)
  const complaints = listen(page)
  await page.goto('/lessons/what-your-ear-makes-of-it/')
  await wakeFigures(page)
  const stack = page.getByRole('region', { name: 'How the loudness adds up', exact: true })
  const contours = page.getByRole('region', { name: 'Equal-loudness contours', exact: true })
  const tone = contours.getByRole('button', { name: '▶ 50 Hz at 90 dB' })
  await hear(stack)
  await expect.poll(() => soundsAt(page)).toEqual([true])
  await tone.click()
  await expect(stack.locator('.place-switch .here')).toHaveAttribute('aria-pressed', 'false')
  await expect.poll(() => soundsAt(page)).toEqual([false, true])
  await expect(player(page)).toContainText('50 Hz at 90 dB')
  await hear(stack, 'front')
  await expect(tone).toHaveAttribute('aria-pressed', 'false')
  await expect.poll(() => soundsAt(page)).toEqual([true, false])
  // Whatever the reader presses, one at a time.
  const match = page.getByRole('region', { name: 'Match tones by ear', exact: true })
  await match.getByRole('button', { name: '▶ play', exact: true }).click()
  await expect(match.getByRole('button', { name: '■ stop', exact: true })).toBeVisible()
  await expect.poll(async () => (await soundsAt(page)).filter(Boolean).length).toBe(1)
  await expect(stack.locator('.place-switch .front')).toHaveAttribute('aria-pressed', 'false')
  await page.keyboard.press('Escape')
  await expect(match.getByRole('button', { name: '▶ play', exact: true })).toBeVisible()
  await expect.poll(async () => (await soundsAt(page)).filter(Boolean).length).toBe(0)
  expect(complaints).toEqual([])
})

test('Esc stops from anywhere, but first it closes what is open', async ({ page }) => {
  await page.goto('/lessons/walk-round-the-back/')
  await wakeFigures(page)
  const figure = page.locator('.figure.walk').first()
  await hear(figure)
  await page.getByRole('button', { name: /^air/i }).click()
  await expect(page.locator('#air-panel')).toBeVisible()
  await page.keyboard.press('Escape')
  await expect(page.locator('#air-panel')).toBeHidden()
  await expect(figure.locator('.place-switch .here')).toHaveAttribute('aria-pressed', 'true')
  await page.keyboard.press('Escape')
  await expect(figure.locator('.place-switch .here')).toHaveAttribute('aria-pressed', 'false')
  await expect(player(page)).toContainText('silent')
  // What fell silent can be heard again from the bar.
  await player(page).locator('.place-switch .front').click()
  await expect(figure.locator('.place-switch .front')).toHaveAttribute('aria-pressed', 'true')
})

test('scrolled away, the bar says what sounds and leads back; closing it is silence', async ({ page }) => {
  await page.goto('/lessons/walk-round-the-back/')
  await wakeFigures(page)
  const figure = page.locator('.figure.walk').first()
  await hear(figure)
  const finding = (await figure.locator('.finding').textContent())?.trim() ?? ''
  await page.evaluate(() => scrollTo({ top: document.body.scrollHeight, behavior: 'instant' }))
  await expect(figure).not.toBeInViewport()
  await expect(player(page)).toBeInViewport()
  await expect(player(page)).toContainText('You hear')
  await expect(player(page)).toContainText(finding)
  await expect(player(page)).toContainText('here, behind')
  // The foot of the page is not covered, also when the bar has grown by the words of what the places change.
  await expect(player(page).locator('.changes')).toBeVisible()
  await expect
    .poll(async () => {
      const footer = await page.locator('footer').boundingBox()
      const bar = await player(page).boundingBox()
      if (!footer || !bar) throw new Error('no footer or no bar')
      return footer.y + footer.height - bar.y
    })
    .toBeLessThanOrEqual(1)
  await player(page).getByRole('link', { name: 'go to what is heard' }).click()
  await expect(figure).toBeInViewport()
  await expect(figure).toBeFocused()
  await player(page)
    .getByRole('button', { name: /^close/ })
    .click()
  await expect(player(page)).toHaveCount(0)
  await expect(figure.locator('.place-switch .here')).toHaveAttribute('aria-pressed', 'false')
})

test('what the two places change in the sound is written beside it, as the sentence has it; matched, as it is heard then', async ({
  page,
}) => {
  await page.goto('/?walk.v=1&walk.angleDeg=150&walk.distanceM=4')
  await wakeFigures(page)
  const figure = page.locator('main .figure').first()
  await hear(figure)
  const written = player(page).locator('.changes')
  const levelsDb = async () =>
    [...((await written.textContent()) ?? '').matchAll(/(bass|middle|treble) ([+−]?\d+) dB/g)].map(([, , level]) =>
      Number(level?.replace('−', '-')),
    )
  await expect(written).toContainText('“here, behind” against “in front”: bass ')
  const [bassDb = 0, middleDb = 0, trebleDb = 0] = await levelsDb()
  const sentence = (await figure.locator('.sentence').textContent()) ?? ''
  const quieterDb = (of: string) => Number(new RegExp(`${of} is (?:about )?(\\d+) dB quieter`, 'i').exec(sentence)?.[1])
  // 1 dB: each is rounded to whole decibels, and the filters of the bands are those of a class 1 meter here.
  expect(Math.abs(-bassDb - quieterDb('bass'))).toBeLessThanOrEqual(1)
  expect(Math.abs(-trebleDb - quieterDb('treble'))).toBeLessThanOrEqual(1)
  expect(middleDb).toBeLessThan(bassDb)
  expect(middleDb).toBeGreaterThan(trebleDb)
  // The front is turned down: what was less there stays less by as much.
  await player(page).getByLabel('matched').check()
  await expect.poll(async () => (await levelsDb())[0]).toBeGreaterThan(0)
  const matched = await levelsDb()
  expect(Math.abs((matched[0] ?? 0) - (matched[2] ?? 0) - (bassDb - trebleDb))).toBeLessThanOrEqual(1)
})

test('a second figure takes the page, with what was chosen for the first', async ({ page }) => {
  await putEars(page)
  await page.goto('/lessons/what-your-ear-makes-of-it/?stack.v=1&stack.level=matched&stack.signal=speech')
  await wakeFigures(page)
  const stack = page.getByRole('region', { name: 'How the loudness adds up', exact: true })
  await hear(stack)
  await expect(player(page).getByLabel('speech-like')).toBeChecked()
  await expect(player(page).getByLabel('matched')).toBeChecked()
  await player(page).getByLabel('true level').check()
  await expect(page).not.toHaveURL(/stack\.level/)
  await expect(page).toHaveURL(/stack\.signal=speech/)
})

test('the meter shows what leaves, under the ceiling, and says it without chatter', async ({ page }) => {
  await putEars(page)
  await page.goto('/embed/walk-round/')
  await wakeFigures(page)
  await hear(page.locator('.figure'), 'front')
  const meter = player(page).getByRole('meter')
  await expect(meter).toHaveAttribute('aria-valuetext', /^\d+ dB under the ceiling$/)
  // The meter says the peaks of a second; a look of 43 ms is at most as high, and mostly a few decibels lower.
  await expect
    .poll(async () => {
      const [levelDb = -200] = await heardDb(page)
      return Number(await meter.getAttribute('aria-valuenow')) - (levelDb + 1)
    })
    .toBeLessThan(12)
  await expect.poll(async () => (await heardDb(page))[0] ?? -200).toBeGreaterThan(-30)
  await expect(meter).not.toHaveAttribute('aria-live')
  await page.keyboard.press('Escape')
  await expect(meter).toHaveAttribute('aria-valuetext', 'no sound')
})

/** A WAV file of 16 bits: some seconds of two tones, left and right, with a quieter beginning. */
function wav(durationS: number, channels = 2, sampleRateHz = 22050): Buffer {
  const frames = Math.round(durationS * sampleRateHz)
  const bytes = Buffer.alloc(44 + 2 * channels * frames)
  bytes.write('RIFF', 0)
  bytes.writeUInt32LE(bytes.length - 8, 4)
  bytes.write('WAVEfmt ', 8)
  bytes.writeUInt32LE(16, 16)
  bytes.writeUInt16LE(1, 20)
  bytes.writeUInt16LE(channels, 22)
  bytes.writeUInt32LE(sampleRateHz, 24)
  bytes.writeUInt32LE(2 * channels * sampleRateHz, 28)
  bytes.writeUInt16LE(2 * channels, 32)
  bytes.writeUInt16LE(16, 34)
  bytes.write('data', 36)
  bytes.writeUInt32LE(2 * channels * frames, 40)
  for (let frame = 0; frame < frames; frame++)
    for (let channel = 0; channel < channels; channel++) {
      const timeS = frame / sampleRateHz
      const sample = (timeS < 10 ? 2000 : 9000) * Math.sin(2 * Math.PI * (channel ? 660 : 220) * timeS)
      bytes.writeInt16LE(Math.round(sample), 44 + 2 * (channels * frame + channel))
    }
  return bytes
}

test('a file of the reader’s own is played from the device, cut to a minute, and is in no link', async ({ page }) => {
  await putEars(page)
  const complaints = listen(page)
  await page.goto('/embed/walk-round/')
  await wakeFigures(page)
  await hear(page.locator('.figure'), 'front')
  const requests: string[] = []
  page.on('request', (request) => request.method() !== 'GET' && requests.push(request.url()))
  const field = player(page).getByLabel('Your own file')
  await field.setInputFiles({ name: 'short.wav', mimeType: 'audio/wav', buffer: wav(2) })
  await expect(player(page)).toContainText('short.wav, 2 s, made as loud as the other sounds.')
  await expect(player(page).getByLabel('short.wav', { exact: true })).toBeChecked()
  await expect(page.locator('.figure .place-switch .front')).toHaveAttribute('aria-pressed', 'true')
  await expect.poll(async () => (await heardDb(page))[0] ?? -200).toBeGreaterThan(-40)
  await field.setInputFiles({ name: 'long.wav', mimeType: 'audio/wav', buffer: wav(90) })
  await expect(player(page)).toContainText('long.wav: 60 s from 0:10, where it is loudest')
  expect(page.url()).not.toContain('signal')
  // What cannot be read says why, and the last good one plays on.
  await field.setInputFiles({ name: 'words.wav', mimeType: 'audio/wav', buffer: Buffer.from('not a sound at all') })
  await expect(player(page).getByRole('status')).toContainText('This browser cannot read that file as sound')
  await field.setInputFiles({ name: 'click.wav', mimeType: 'audio/wav', buffer: wav(0.5) })
  await expect(player(page).getByRole('status')).toContainText('too short: a loop needs at least 1 second')
  await field.setInputFiles({ name: 'huge.wav', mimeType: 'audio/wav', buffer: Buffer.alloc(41 * 1024 * 1024) })
  await expect(player(page).getByRole('status')).toContainText('too large: 41 MB. Up to 40 MB can be read')
  await expect(player(page).getByLabel('long.wav', { exact: true })).toBeChecked()
  await expect(page.locator('.figure .place-switch .front')).toHaveAttribute('aria-pressed', 'true')
  await player(page).getByLabel('pink noise').check()
  await expect(player(page).getByLabel('long.wav', { exact: true })).not.toBeChecked()
  expect(requests).toEqual([])
  expect(complaints).toEqual([])
})

test('presses before the player has come are kept: the newest counts', async ({ page }) => {
  let letGo = (): void => {}
  const held = new Promise<void>((resolve) => {
    letGo = resolve
  })
  await page.route(/\/(player|show-bar)[^/]*\.js/, async (route) => {
    await held
    await route.continue()
  })
  await page.goto('/embed/walk-round/')
  await wakeFigures(page)
  const ends = page.locator('.figure .place-switch')
  await ends.locator('.here').click()
  await expect(page.locator('.figure .listen')).toContainText('making the sound')
  await ends.locator('.front').click()
  letGo()
  await expect(ends.locator('.front')).toHaveAttribute('aria-pressed', 'true')
  await expect(ends.locator('.here')).toHaveAttribute('aria-pressed', 'false')
})

test.describe('folded', () => {
  test.use({ kept: hasReadOn })

  test('at 390 px the bar has two lines, and opens to the rest', async ({ page }) => {
    await page.setViewportSize({ width: 390, height: 844 })
    await page.goto('/')
    await wakeFigures(page)
    await hear(page.locator('main .figure').first())
    // Two lines: the words, and a row of controls of 44 px.
    const heightPx = async () => (await player(page).boundingBox())?.height ?? 0
    await expect.poll(heightPx).toBeLessThan(115)
    await player(page).getByRole('button', { name: 'more' }).click()
    await expect(player(page).getByRole('slider', { name: 'volume' })).toBeVisible()
    await expect.poll(heightPx).toBeLessThanOrEqual(0.7 * 844)
    await player(page).getByRole('button', { name: 'less' }).click()
    await expect.poll(heightPx).toBeLessThan(115)
  })

  test('what has the focus is not under the bar', async ({ page }) => {
    await page.setViewportSize({ width: 390, height: 844 })
    await page.goto('/lessons/walk-round-the-back/')
    await wakeFigures(page)
    await hear(page.locator('.figure.walk').first())
    for (let press = 0; press < 25; press++) {
      await page.keyboard.press('Tab')
      await framesPass(page)
      const hidden = await page.evaluate(() => {
        const [focus, bar] = [document.activeElement, document.querySelector('.player')]
        if (!focus || !bar || bar.contains(focus) || focus === document.body) return false
        return focus.getBoundingClientRect().top > bar.getBoundingClientRect().top
      })
      expect(hidden).toBe(false)
    }
  })

  test('on paper there is no bar', async ({ page }) => {
    await page.goto('/embed/walk-round/')
    await wakeFigures(page)
    await hear(page.locator('.figure'))
    await expect(player(page)).toBeVisible()
    await page.emulateMedia({ media: 'print' })
    await expect(page.locator('.player')).toBeHidden()
  })
})

test('opened, the bar has no accessibility violation and fits down to 320 px', async ({ page }) => {
  await page.goto('/embed/walk-round/')
  await wakeFigures(page)
  await hear(page.locator('.figure'))
  await openEverything(page)
  await expectAccessible(page)
  await expectNoSidewaysScroll(page, [320, 360, 390, 768, 1280])
})
