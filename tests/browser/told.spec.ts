import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, type Locator, type Page } from '@playwright/test'
import { clearPlace, type Rig } from '../../src/acoustics/index.ts'
import { steerAnswerInFull } from '../../src/engine/questions/steer/solved-set.ts'
import { steerAnswer } from '../../src/engine/questions/steer/steer.ts'
import { walkAnswer } from '../../src/engine/questions/walk/walk.ts'
import { wallAnswer } from '../../src/engine/questions/wall/wall.ts'
import { demoHallStates } from '../../src/engine/scene/hall-content.ts'
import { loadSolvedRig } from '../../src/engine/scene/solved-gear.ts'
import { defaultState } from '../../src/state/share-link.ts'
import { steerSentence } from '../../src/widgets/steer-bass/describe-steer-bass.ts'
import { steerBassLink, questionOf as steerQuestionOf } from '../../src/widgets/steer-bass/steer-bass-link.ts'
import { differenceWords, walkSentence } from '../../src/widgets/walk-round/describe-walk-round.ts'
import { trainSentence, wallSentence } from '../../src/widgets/wall-distance/describe-wall-distance.ts'
import { firstWallState, questionOf as wallQuestionOf } from '../../src/widgets/wall-distance/wall-distance-link.ts'
import { longWork } from './page-checks.ts'
import { slowWorkers } from './slow-worker.ts'
import { test } from './test.ts'

// Whatever a reader is told belongs to one question, at every moment: old words with old numbers, or new with new.

const rig: Rig = JSON.parse(readFileSync(join(import.meta.dirname, '../../content/gear/top-over-sub.json'), 'utf8'))
test.beforeAll(() => loadSolvedRig(rig))

/** Slow enough that every change is seen before its answer is. */
const lateMs = 700

/** Opens a page with slow workers and waits until its figures are awake. */
async function open(page: Page, path: string) {
  await slowWorkers(page, lateMs)
  await page.goto(path)
  await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
}

/** Keeps everything that some elements of a figure say together, from now on. */
async function record(figure: Locator, selectors: string[]): Promise<() => Promise<string[]>> {
  await figure.evaluate((root, parts) => {
    const said: string[] = []
    const note = () => {
      const text = parts.map((part) => root.querySelector(part)?.textContent?.replace(/\s+/g, ' ').trim()).join(' | ')
      if (said.at(-1) !== text) said.push(text)
    }
    note()
    new MutationObserver(note).observe(root, { subtree: true, childList: true, characterData: true })
    Object.assign(window, { said })
  }, selectors)
  return () => figure.page().evaluate(() => (window as unknown as { said: string[] }).said)
}

const old = (figure: Locator) => figure.locator('.told.old').first()

test('walking round, every sentence between is the module’s for a place that was walked through', async ({ page }) => {
  const told = (angleDeg: number) => {
    const place = clearPlace({ angleRad: (angleDeg * Math.PI) / 180, distanceM: 2.5 }, rig)
    const answer = walkAnswer({ rig, place, datum: 'front-face' })
    return `${walkSentence(answer, angleDeg, 'm')} | ${differenceWords(answer, angleDeg)}`
  }
  await open(page, '/')
  const figure = page.getByRole('region', { name: 'Walk round a loudspeaker' })
  const listener = figure.getByRole('slider', { name: /^Listener/ })
  const said = await record(figure, ['.sentence', '.difference'])
  await listener.focus()
  const places = [180]
  for (let step = 1; step <= 10; step++) {
    await page.keyboard.press('ArrowLeft')
    places.push(180 - 5 * step)
    await expect(listener).toHaveAttribute('aria-valuenow', String(180 - 5 * step))
    await expect(old(figure)).toBeVisible()
    if (step % 3 === 0) await expect(figure.locator('.sentence')).toHaveText(told(180 - 5 * step).split(' | ')[0] ?? '')
  }
  await expect(figure.locator('.told.old')).toHaveCount(0)
  const heard = await said()
  const true_ = new Set(places.map(told))
  for (const sentence of heard) expect(true_).toContain(sentence)
  expect(heard.at(-1)).toBe(told(130))
  expect(new Set(heard).size).toBeGreaterThan(3)
})

test('sliding the box from the wall, sentence and wave trains are those of one distance', async ({ page }) => {
  const first = firstWallState(['top-over-sub'], rig)
  const told = (gapM: number) => {
    const question = wallQuestionOf({ ...first, gapM }, rig)
    const answer = wallAnswer(question)
    return `${wallSentence(answer, question, 'm')} | ${trainSentence(answer.trains, question.frequencyHz)}`
  }
  await open(page, '/embed/wall-distance/')
  const figure = page.getByRole('region', { name: 'The wall behind the loudspeaker' })
  const gap = figure.getByRole('slider', { name: 'wall to the back of the box' })
  const said = await record(figure, ['.sentence', '.train'])
  const gaps = [first.gapM]
  await figure.getByRole('button', { name: 'against the wall' }).click()
  gaps.push(0.05)
  for (let step = 1; step <= 9; step++) {
    await gap.press('ArrowRight')
    gaps.push(Math.round(100 * (0.05 + 0.05 * step)) / 100)
    await expect(old(figure)).toBeVisible()
    if (step % 3 === 0) await expect(figure.locator('.said .told.old')).toHaveCount(0)
  }
  await expect(figure.locator('.told.old')).toHaveCount(0)
  const heard = await said()
  const true_ = new Set(gaps.map(told))
  for (const sentence of heard) expect(true_).toContain(sentence)
  expect(heard.at(-1)).toBe(told(0.5))
})

test('moving the reader’s band, the sentence of steered bass stays that of a band it was computed for', async ({
  page,
}) => {
  const first = defaultState(steerBassLink(['top-over-sub']))
  const told = (fromHz: number) => {
    const question = steerQuestionOf({ ...first, fromHz }, rig, demoHallStates)
    return steerSentence(steerAnswerInFull(question).merits, question, 'm')
  }
  await open(page, '/embed/steer-the-bass/')
  const figure = page.getByRole('region', { name: 'Steer the bass' })
  const from = figure.getByRole('slider', { name: 'your band from' })
  const said = await record(figure, ['.sentence'])
  const bands = [first.fromHz]
  for (let step = 1; step <= 10; step++) {
    await from.press('ArrowRight')
    bands.push(first.fromHz + step)
    await expect(old(figure)).toBeVisible()
  }
  await expect(figure.locator('.sentence')).toHaveText(told(first.fromHz + 10))
  const true_ = new Set(bands.map(told))
  for (const sentence of await said()) expect(true_).toContain(sentence)
})

test('boxes that stand otherwise are told as alone first, and said to be that, then as one body', async ({ page }) => {
  const question = steerQuestionOf(defaultState(steerBassLink(['top-over-sub'])), rig, demoHallStates)
  const closer = { ...question, set: { ...question.set, spacingM: 1.2 } }
  const words = (asked: typeof question, answer = steerAnswerInFull(asked)) => steerSentence(answer.merits, asked, 'm')
  const [first, alone, told] = [words(question), words(closer, steerAnswer(closer)), words(closer)]
  expect(new Set([first, alone, told]).size).toBe(3)
  const asAlone = 'Here each box counts as if the others were not in its way.'
  await open(page, '/embed/steer-the-bass/')
  const figure = page.getByRole('region', { name: 'Steer the bass' })
  const typed = figure.getByRole('textbox', { name: /^spacing/ })
  const said = await record(figure, ['.sentence', '.more'])
  await typed.fill('1.2 m')
  await typed.press('Enter')
  await expect(figure.locator('.sentence')).toHaveText(told, longWork)
  for (const heard of await said()) {
    expect(
      [first, alone, told].some((each) => heard.startsWith(each)),
      heard,
    ).toBe(true)
    if (heard.startsWith(alone)) expect(heard).toMatch(/So far with each box as if alone|Computing/)
    expect(heard).not.toContain(asAlone)
  }
  // On grass it stays with each box alone, and says so.
  await figure.getByRole('combobox', { name: 'surroundings' }).selectOption({ label: 'outdoors on grass' })
  await expect(figure.locator('.more')).toContainText(asAlone)
})
