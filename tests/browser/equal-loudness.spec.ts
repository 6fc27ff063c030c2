import { expect, type Page } from '@playwright/test'
import { contourLevelDb, loudnessLevelPhon } from '../../src/acoustics/index.ts'
import type { ToneBurst } from '../../src/sound/tone-bursts.ts'
import type { TonePlayer } from '../../src/sound/tone-player.ts'
import { dropSentence, toneSentence } from '../../src/widgets/equal-loudness/describe-equal-loudness.ts'
import { matchSentence, nextStepSentence } from '../../src/widgets/equal-loudness/describe-match.ts'
import { levelDrop } from '../../src/widgets/equal-loudness/level-drop.ts'
import { matchedTonesKey } from '../../src/widgets/equal-loudness/matched-tones.ts'
import { expectAccessible, expectNoSidewaysScroll, listen, wakeFigures } from './page-checks.ts'
import { test } from './test.ts'

const path = '/embed/equal-loudness/'
const contours = (page: Page) => page.getByRole('region', { name: 'Equal-loudness contours', exact: true })
const match = (page: Page) => page.getByRole('region', { name: 'Match tones by ear' })
const tone = (page: Page) => contours(page).getByRole('slider', { name: /^Tone/ })

/** Opens the page with both figures alive; returns what the console says from then on. */
async function open(page: Page, query = ''): Promise<string[]> {
  const heard = listen(page)
  await page.goto(`${path}${query}`)
  await wakeFigures(page)
  return heard
}

/** What the module says of a tone, in the words of the figure. */
async function expectTone(page: Page, frequencyHz: number, levelDb: number, bassHz = 50) {
  const phon = loudnessLevelPhon(levelDb, frequencyHz)
  await expect(contours(page).locator('.sentence')).toHaveText(toneSentence(frequencyHz, levelDb, phon))
  await expect(contours(page).locator('.drop')).toHaveText(dropSentence(levelDrop(phon, bassHz), levelDrop(phon, 1000)))
}

test('keys, sliders and the link move the tone, and the numbers are the module’s', async ({ page }) => {
  await open(page)
  await expectTone(page, 50, 90)
  await tone(page).focus()
  await page.keyboard.press('ArrowRight')
  await page.keyboard.press('PageDown')
  await page.keyboard.press('ArrowUp')
  await expectTone(page, 63, 81)
  await expect(tone(page)).toHaveAttribute('aria-valuetext', /^63 Hz at 81 decibels, \d+ phon$/)
  await contours(page).getByLabel('80 Hz').check()
  await expectTone(page, 63, 81, 80)
  // Loud tones end where the standard's contours do.
  for (let press = 0; press < 5; press++) await page.keyboard.press('ArrowRight')
  await tone(page).focus()
  for (let press = 0; press < 4; press++) await page.keyboard.press('PageUp')
  const highest = Number(await tone(page).getAttribute('aria-valuenow'))
  expect(highest).toBe(Math.floor(contourLevelDb(90, 63)))

  // The address follows a little later.
  await expect(page).toHaveURL(new RegExp(`contour\\.levelDb=${highest}\\b`))
  await expect(page).toHaveURL(/contour\.frequencyHz=63/)
  const { search } = new URL(page.url())
  await open(page, search)
  await expect(tone(page)).toHaveAttribute('aria-valuenow', String(highest))
  await open(page, '?contour.levelDb=60&contour.frequencyHz=3')
  await expectTone(page, 50, 60)
  await expect(contours(page).locator('.notices')).toContainText('frequencyHz “3”')
})

test('the tone is dragged to a third octave and a whole dB', async ({ page }) => {
  await open(page)
  await tone(page).scrollIntoViewIfNeeded()
  const mark = await tone(page).locator('.mark').boundingBox()
  const grid = await contours(page).locator('.parts > .chart svg').boundingBox()
  if (!mark || !grid) throw new Error('the chart is not on the page')
  const [x, y] = [mark.x + mark.width / 2, mark.y + mark.height / 2]
  await page.mouse.move(x, y)
  await page.mouse.down()
  // The axis: 20 Hz to 12.5 kHz over the width inside its margins, 140 dB over the height.
  const pixelsPerDecade = (grid.width - 66) / Math.log10(12500 / 20)
  await page.mouse.move(x + 20, y + 10, { steps: 3 })
  await page.mouse.move(x + pixelsPerDecade, y + ((grid.height - 60) * 30) / 140, { steps: 5 })
  await page.mouse.up()
  await expectTone(page, 500, 60)
})

test('tones sound after a press only, end by themselves, and keep their difference under the ceiling', async ({
  page,
}) => {
  const scripts: string[] = []
  page.on('request', (request) => request.resourceType() === 'script' && scripts.push(request.url()))
  const heard = await open(page)
  expect(scripts.filter((address) => /tone-player/.test(address))).toEqual([])
  const play = contours(page).getByRole('button', { name: '▶ 50 Hz at 90 dB' })
  await play.click()
  await expect(play).toHaveAttribute('aria-pressed', 'true')
  await expect(play).toHaveAttribute('aria-pressed', 'false')
  const lowered = contours(page).locator('.note strong')
  await expect(lowered).toHaveCount(0)
  await contours(page)
    .getByRole('slider', { name: /volume/ })
    .fill('-20')
  // 90 dB against 60: the bass tone would need −20 + 30 dB re full scale; −1 is the most.
  const over = -20 + 90 - loudnessLevelPhon(90, 50) + 1
  await expect(lowered).toContainText(`come ${Math.round(over)} dB lower`)
  expect(heard).toEqual([])
})

test('bursts have the asked peak, length and gap, never pass −1 dBFS, and fade out when stopped', async ({ page }) => {
  let player = ''
  page.on('request', (request) => {
    if (/tone-player/.test(request.url())) player = request.url()
  })
  await open(page)
  const button = contours(page).getByRole('button', { name: '▶ by turns' })
  await button.click()
  await expect.poll(() => player).not.toBe('')
  const sampleRateHz = 48000
  const samples = await page.evaluate(
    async ({ player, sampleRateHz }) => {
      const { createTonePlayer } = (await import(player)) as {
        createTonePlayer: (options: { context: OfflineAudioContext }) => TonePlayer
      }
      const context = new OfflineAudioContext(1, 4 * sampleRateHz, sampleRateHz)
      const tones = createTonePlayer({ context })
      const queue: ToneBurst[] = [
        { frequencyHz: 1000, peakDb: -40, durationS: 0.5, gapS: 0.25 },
        { frequencyHz: 63, peakDb: -1, durationS: 0.5, gapS: 0.25 },
        { frequencyHz: 250, peakDb: -20, durationS: 0.5, gapS: 0.5 },
        { frequencyHz: 1000, peakDb: -20, durationS: 1, gapS: 0 },
      ]
      tones.play(() => queue.shift())
      void context.suspend(2.9).then(() => {
        tones.stop()
        void context.resume()
      })
      const rendered = await context.startRendering()
      return Array.from(rendered.getChannelData(0))
    },
    { player, sampleRateHz },
  )
  const part = (fromS: number, toS: number) => samples.slice(fromS * sampleRateHz, toS * sampleRateHz)
  const peak = (from: number, to: number) => part(from, to).reduce((most, value) => Math.max(most, Math.abs(value)), 0)
  const upward = (from: number, to: number) =>
    part(from, to).filter((value, index, all) => value >= 0 && (all[index - 1] ?? 0) < 0).length
  const db = (value: number) => 20 * Math.log10(value)
  // 0.01 dB: the highest sample of a sine at these frequencies lies that near to its crest.
  expect(Math.abs(db(peak(0.1, 0.4)) + 40)).toBeLessThan(0.01)
  expect(Math.abs(db(peak(0.85, 1.15)) + 1)).toBeLessThan(0.01)
  expect(Math.abs(db(peak(1.6, 1.9)) + 20)).toBeLessThan(0.01)
  expect(peak(0, 4)).toBeLessThanOrEqual(10 ** (-1 / 20))
  expect(Math.abs(upward(0.1, 0.4) - 300)).toBeLessThanOrEqual(1)
  expect(Math.abs(upward(0.85, 1.15) - 19)).toBeLessThanOrEqual(1)
  expect(Math.abs(upward(1.6, 1.9) - 75)).toBeLessThanOrEqual(1)
  // Silence in the gaps but for the start of the next burst, which comes with the next block of 128 samples.
  for (const [from, to] of [
    [0.505, 0.745],
    [1.26, 1.495],
    [2.02, 2.49],
  ] as const)
    expect(peak(from, to)).toBe(0)
  // Stopped at 2.9 s, in the middle of a burst: 60 ms later nothing is left, and half-way half of it.
  expect(Math.abs(db(peak(2.6, 2.9)) + 20)).toBeLessThan(0.01)
  expect(Math.abs(db(peak(2.93, 2.932)) + 26.02)).toBeLessThan(0.6)
  expect(peak(2.965, 4)).toBe(0)
  // The fade is a straight line of 80 ms: at half of it half the peak.
  expect(Math.abs(db(peak(0.039, 0.041)) + 46.02)).toBeLessThan(0.3)
})

test('tones are matched by ear with keys alone; results stay on the device and can be cleared and put back', async ({
  page,
}) => {
  const heard = await open(page)
  const slider = match(page).getByRole('slider', { name: /against 1 kHz/ })
  const line = match(page).locator('path.standard')
  await match(page).getByRole('button', { name: '63 Hz' }).click()
  await match(page).getByRole('button', { name: '▶ play' }).press('Enter')
  await expect(match(page).getByRole('button', { name: '■ stop' })).toBeVisible()
  await expect(line).toHaveCount(0)
  await slider.focus()
  for (let press = 0; press < 28; press++) await page.keyboard.press('ArrowRight')
  await expect(slider).toHaveAttribute('aria-valuetext', '18 dB more')
  await match(page)
    .getByRole('button', { name: /keep it/ })
    .press('Enter')
  const standardDb = contourLevelDb(60, 63) - 60
  const result = matchSentence({ frequencyHz: 63, differenceDb: 18, standardDb })
  await expect(match(page).locator('.sentence')).toHaveText(result)
  await expect(line).toHaveCount(1)
  await expect(page).toHaveURL(/match\.frequencyHz=63/)
  expect(page.url()).not.toContain('18')

  await open(page, '?match.frequencyHz=63')
  await expect(match(page).locator('.sentence')).toHaveText(result)
  await match(page).locator('summary', { hasText: 'table' }).click()
  await expect(match(page).getByRole('row', { name: /^63 / }).getByRole('cell').nth(1)).toHaveText('18.0')
  await match(page).getByRole('button', { name: 'next tone' }).click()
  await expect(match(page).getByRole('button', { name: '40 Hz' })).toHaveAttribute('aria-pressed', 'true')
  await match(page).getByRole('button', { name: 'clear all' }).click()
  await expect(match(page).locator('.sentence')).toHaveText(nextStepSentence(0, 8))
  await expect.poll(() => page.evaluate((key) => localStorage.getItem(key), matchedTonesKey)).toBeNull()
  await match(page).getByRole('button', { name: 'put them back' }).click()
  await match(page).getByRole('button', { name: '63 Hz' }).click()
  await expect(match(page).locator('.sentence')).toHaveText(result)
  await match(page).getByRole('button', { name: 'forget this one' }).click()
  await expect(match(page).locator('.sentence')).toHaveText(nextStepSentence(0, 8))
  expect(heard).toEqual([])
})

test('with a result kept there is no accessibility violation, and nothing scrolls sideways', async ({ page }) => {
  await page.addInitScript((key) => {
    const tones = [{ frequencyHz: 125, differenceDb: 12 }]
    localStorage.setItem(key, JSON.stringify({ version: 1, referencePhon: 60, tones }))
  }, matchedTonesKey)
  const heard = await open(page)
  await expectAccessible(page)
  await expectNoSidewaysScroll(page)
  expect(heard).toEqual([])
})

test.describe('without JavaScript', () => {
  test.use({ javaScriptEnabled: false })
  test('the contours and the sentences of the first state are there', async ({ page }) => {
    await page.goto(path)
    await expectTone(page, 50, 90)
    await expect(contours(page).locator('path.known')).toHaveCount(5)
    await expect(match(page).locator('path.standard')).toHaveCount(1)
    await expect(page.getByRole('button')).toHaveCount(0)
  })
})
