import { expect, type Page } from '@playwright/test'
import { seededRandom } from '../../src/acoustics/signals/seeded-random.ts'
import { drawBehind, type Letter } from '../../src/widgets/blind-comparison/blind-trials.ts'
import {
  brokenOffSentence,
  progressSentence,
  stageVerdict,
  toldSentence,
} from '../../src/widgets/blind-comparison/describe-blind-comparison.ts'
import { expectAccessible } from './page-checks.ts'
import { test } from './test.ts'

const path = '/embed/blind-comparison/'
const trials = 5
const seed = 7
/** What is behind, in the order that the page draws it from the seed: one go after the other. */
const behind = drawBehind(3 * trials, seededRandom(seed))
const figure = (page: Page) => page.getByRole('region', { name: 'Blind comparison of front and behind' })
const sentence = (page: Page) => figure(page).locator('.sentence')
const other = (letter: Letter): Letter => (letter === 'A' ? 'B' : 'A')

declare global {
  interface Window {
    /** Listens to whatever the page sends to the loudspeakers. */
    listener: AnalyserNode
  }
}

async function open(page: Page, query = '') {
  await page.goto(`${path}?blind.trials=${trials}&blind.seed=${seed}${query}`)
  await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
}

const press = (page: Page, name: string) => figure(page).getByRole('button', { name, exact: true }).click()

async function begin(page: Page, stage: number) {
  await press(page, `begin stage ${stage}`)
  await expect(figure(page).getByRole('group', { name: `Stage ${stage}, trial 1 of ${trials}` })).toBeVisible()
}

/** Answers every trial of a stage that has begun. */
async function answer(page: Page, says: Letter[]) {
  for (const [trial, letter] of says.entries()) {
    await press(page, '▶ hear A')
    await press(page, `${letter} is behind`)
    if (trial < says.length - 1) await press(page, 'next trial')
  }
}

test('a stage answered right and one answered wrong: verdicts, told trials and table are those of the module', async ({
  page,
}) => {
  const complaints: string[] = []
  page.on('console', (message) => message.type() === 'error' && complaints.push(message.text()))
  page.on('pageerror', (error) => complaints.push(error.message))
  await open(page)
  await begin(page, 1)
  await expect(sentence(page)).toHaveText(progressSentence(0, trials, 0))
  // What differed is told of the two sounds that are heard, so the place cannot change under them.
  await expect(figure(page).getByRole('slider', { name: /^distance/ })).toBeDisabled()
  await expect(figure(page).getByRole('button', { name: 'A is behind' })).toBeDisabled()
  const first = behind.slice(0, trials)
  await answer(page, first)
  await expect(sentence(page)).toHaveText(stageVerdict({ right: trials, trials, goes: 1 }))

  await begin(page, 2)
  const second = behind.slice(trials, 2 * trials)
  await press(page, '▶ hear B')
  const wrong = other(second[0] as Letter)
  await press(page, `${wrong} is behind`)
  await expect(figure(page).locator('p.told')).toContainText(toldSentence(wrong, second[0] as Letter, 180))
  await press(page, 'next trial')
  await answer(page, second.slice(1).map(other))
  await expect(sentence(page)).toHaveText(stageVerdict({ right: 0, trials, goes: 1 }))
  await expect(figure(page).getByRole('slider', { name: /^distance/ })).toBeDisabled()

  await figure(page).locator('summary', { hasText: 'table' }).click()
  await expect(figure(page).getByRole('row')).toHaveCount(1 + 2 * trials)
  await expect(figure(page).getByRole('row').nth(1)).toContainText('right')
  await expect(
    figure(page)
      .getByRole('row')
      .nth(1 + trials),
  ).toContainText('wrong')

  await begin(page, 3)
  await answer(page, behind.slice(2 * trials))
  await expect(figure(page).locator('.conclusion')).toContainText('One of the two may be luck')
  expect(new URL(page.url()).search).not.toContain('said')
  expect(complaints).toEqual([])
})

test('what sounds behind is the one without treble, and the page does not give it away', async ({ page }) => {
  await page.addInitScript(() => {
    const connect = AudioNode.prototype.connect as (this: AudioNode, ...args: unknown[]) => unknown
    AudioNode.prototype.connect = function (this: AudioNode, ...args: unknown[]) {
      if (args[0] instanceof AudioDestinationNode && this.context instanceof AudioContext) {
        window.listener = new AnalyserNode(this.context, { fftSize: 8192, smoothingTimeConstant: 0 })
        connect.call(this, window.listener)
      }
      return connect.apply(this, args)
    } as typeof AudioNode.prototype.connect
  })
  await open(page, '&blind.feedback=off')
  /** Presses a letter; its mean level from 4 to 12 kHz over a second of sound, dB re full scale. */
  const trebleDb = async (letter: Letter) => {
    await press(page, `▶ hear ${letter}`)
    await expect(figure(page).getByRole('button', { name: `▶ hear ${letter}` })).toHaveAttribute('aria-pressed', 'true')
    // The cross-fade and the analyser's window of 0.2 s pass first.
    await soundPasses(page, 0.5)
    let sum = 0
    for (let reading = 0; reading < 10; reading++) {
      await soundPasses(page, 0.1)
      sum += await page.evaluate(() => {
        const { listener } = window
        const lines = new Float32Array(listener.frequencyBinCount)
        listener.getFloatFrequencyData(lines)
        const lineHz = listener.context.sampleRate / listener.fftSize
        let power = 0
        for (let k = Math.ceil(4000 / lineHz); k < 12000 / lineHz; k++) power += 10 ** ((lines[k] ?? 0) / 10)
        return power
      })
    }
    return 10 * Math.log10(sum)
  }
  await begin(page, 1)
  for (const letter of behind.slice(0, 2)) {
    const behindDb = await trebleDb(letter)
    const markup = await figure(page).locator('.trial').innerHTML()
    // The module says 29 dB; the noise of a second is even within a few.
    expect((await trebleDb(other(letter))) - behindDb).toBeGreaterThan(20)
    // With the letters exchanged the page is the same, so nothing in it depends on what is behind them.
    const swapped = await figure(page).locator('.trial').innerHTML()
    expect(exchanged(swapped)).toBe(exchanged(markup))
    await press(page, `${letter} is behind`)
    await expect(figure(page).locator('p.told')).not.toContainText(/You said|was behind/)
  }
})

/** Waits until so much more sound has been played, s, by the clock of what plays it. */
const soundPasses = (page: Page, durationS: number) =>
  page.evaluate(async (lengthS) => {
    const { context } = window.listener
    const endS = context.currentTime + lengthS
    while (context.currentTime < endS) await new Promise(requestAnimationFrame)
  }, durationS)

/** Markup without which of the two buttons is pressed. */
const exchanged = (html: string) => html.replaceAll(/aria-pressed="(true|false)"/g, 'aria-pressed')

test('letters play while a button of the trial has the focus; a stage that is broken off has no verdict', async ({
  page,
}) => {
  await open(page)
  await begin(page, 1)
  await expect(figure(page).getByRole('button', { name: '▶ hear A' })).toBeFocused()
  await page.keyboard.press('b')
  await expect(figure(page).getByRole('button', { name: '▶ hear B' })).toHaveAttribute('aria-pressed', 'true')
  await press(page, '■ stop')
  await press(page, 'A is behind')
  await expect(figure(page).getByRole('button', { name: 'next trial' })).toBeFocused()
  await press(page, 'break off this stage')
  await expect(sentence(page)).toHaveText(brokenOffSentence(1, trials))
  await press(page, 'start again')
  await expect(figure(page).getByRole('slider', { name: /^distance/ })).toBeEnabled()
})

test('accessible before a stage and within a trial, light and dark', async ({ page }) => {
  await open(page)
  await expectAccessible(page)
  await begin(page, 1)
  await press(page, '▶ hear A')
  await press(page, 'A is behind')
  await expectAccessible(page)
})
