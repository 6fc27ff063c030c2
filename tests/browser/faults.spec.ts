// What a reader meets when something does not come: slow or silent workers, a script, a piece of code, a solved file, the
// device's storage. Whatever it is, the page lives on: it says something, or keeps its last state, and goes on when it can.
import { expect, type Page } from '@playwright/test'
import { wakeFigures } from './page-checks.ts'
import {
  cutOff,
  deafStorage,
  heldAnswers,
  letWorkersGo,
  setWorkerDelay,
  silenceWorkers,
  slowWorkers,
  watchWorkers,
  workersRest,
} from './slow-worker.ts'
import { test } from './test.ts'

const walk = (page: Page) => page.getByRole('region', { name: 'Walk round a loudspeaker' })
const sentence = (page: Page) => walk(page).locator('.sentence')
const direction = (page: Page) => walk(page).getByRole('slider', { name: 'direction' })
const standIn = (page: Page) => walk(page).locator('.notices p').filter({ hasText: 'stands in' })
const picture = (page: Page) => walk(page).locator('.plan canvas')

/** Exceptions that nobody caught: a page that throws one may be dead. */
function crashesOf(page: Page): string[] {
  const crashes: string[] = []
  page.on('pageerror', (error) => crashes.push(error.message))
  return crashes
}

async function open(page: Page, address = '/embed/walk-round/') {
  await page.goto(address)
  await wakeFigures(page)
}

test('slow workers: what was asked last is answered in the end', async ({ page }) => {
  const crashes = crashesOf(page)
  await slowWorkers(page, 1000)
  await open(page)
  await direction(page).fill('90')
  await expect.poll(() => heldAnswers(page)).toBeGreaterThan(0)
  await direction(page).fill('0')
  await expect(sentence(page)).toContainText('You are 2.5 m in front of the loudspeaker')
  await expect(sentence(page)).toContainText('as loud as straight in front at this distance')
  await expect(picture(page)).toBeVisible()
  expect(crashes).toEqual([])
})

test('silent workers: the last state stays, and the answer comes when they speak again', async ({ page }) => {
  const crashes = crashesOf(page)
  await silenceWorkers(page)
  await open(page)
  await expect(sentence(page)).toContainText('Bass is')
  await direction(page).fill('0')
  await expect.poll(() => heldAnswers(page)).toBeGreaterThan(0)
  await expect(sentence(page)).toContainText('Bass is')
  await expect(picture(page)).toHaveCount(0)
  await letWorkersGo(page)
  await expect(sentence(page)).toContainText('as loud as straight in front at this distance')
  await expect(picture(page)).toBeVisible()
  await workersRest(page)
  expect(crashes).toEqual([])
})

test('workers that are silent for ever are given up, told, and asked again', async ({ page }) => {
  await page.clock.install()
  await watchWorkers(page)
  await open(page)
  await expect(picture(page)).toBeVisible()
  await workersRest(page)
  await setWorkerDelay(page, Number.POSITIVE_INFINITY)
  await direction(page).fill('0')
  await expect.poll(() => heldAnswers(page)).toBeGreaterThan(0)
  const problem = walk(page).locator('.notices p').filter({ hasText: 'The answer could not be computed' })
  await expect(problem).toHaveCount(0)
  await page.clock.fastForward('01:05')
  await expect(problem).toContainText('there was no answer within 60 seconds')
  await expect(walk(page).locator('.said')).toHaveClass(/old/)
  await setWorkerDelay(page, 0)
  await problem.getByRole('button', { name: 'try again' }).click()
  await expect(sentence(page)).toContainText('as loud as straight in front at this distance')
  await expect(problem).toHaveCount(0)
})

test('one kind of question can be silenced alone, on a page that is open', async ({ page }) => {
  await watchWorkers(page)
  await open(page)
  await expect(picture(page)).toBeVisible()
  await workersRest(page)
  await setWorkerDelay(page, Number.POSITIVE_INFINITY, ['planPicture'])
  await direction(page).fill('0')
  await expect(sentence(page)).toContainText('as loud as straight in front at this distance')
  await walk(page).getByRole('combobox', { name: 'plan shows' }).selectOption('levels')
  await expect.poll(() => heldAnswers(page)).toBeGreaterThan(0)
  await expect(picture(page)).toBeVisible()
  await letWorkersGo(page)
  await workersRest(page)
})

test('no worker script: the page computes by itself and says so', async ({ page }) => {
  const crashes = crashesOf(page)
  const { refused } = await cutOff(page, 'worker script')
  await open(page)
  await direction(page).fill('0')
  await expect(sentence(page)).toContainText('as loud as straight in front at this distance')
  await expect(walk(page)).toContainText('Background workers are off')
  expect(refused).not.toEqual([])
  expect(crashes).toEqual([])
})

test('no code for a question: something is said, and the last state stays', async ({ page }) => {
  const crashes = crashesOf(page)
  const { refused, mend } = await cutOff(page, 'worker chunk')
  await open(page)
  await direction(page).fill('0')
  await expect.poll(() => refused).not.toEqual([])
  const problem = walk(page).locator('.notices p').filter({ hasText: 'The answer could not be computed' })
  await expect(problem).toContainText('the last one stays, with what it was computed for')
  await expect(sentence(page)).toContainText('Bass')
  await expect(walk(page).locator('.said')).toHaveClass(/old/)
  await mend()
  await problem.getByRole('button', { name: 'try again' }).click()
  await expect(problem).toHaveCount(0)
  await expect(sentence(page)).toContainText('as loud as straight in front at this distance')
  expect(crashes).toEqual([])
})

test('no solved cabinets: the page lives on, and has them once the way is mended', async ({ page }) => {
  const crashes = crashesOf(page)
  const { refused, mend } = await cutOff(page, 'solved gear')
  await open(page)
  await direction(page).fill('90')
  await expect.poll(() => refused).not.toEqual([])
  await expect(sentence(page)).toHaveText(/^For a hard ball in place of the boxes: You are .* beside the loudspeaker/)
  await expect(standIn(page)).toContainText('A hard ball of the same surface stands in')
  await mend()
  await standIn(page).getByRole('button', { name: 'try again' }).click()
  await expect(sentence(page)).toHaveText(/^You are .* beside the loudspeaker/)
  await expect(standIn(page)).toHaveCount(0)
  await direction(page).fill('0')
  await expect(sentence(page)).toContainText('as loud as straight in front at this distance')
  expect(crashes).toEqual([])
})

test('no code for a figure: its first state stays, with words and picture', async ({ page }) => {
  const crashes = crashesOf(page)
  const { refused } = await cutOff(page, /\/WalkRound\.[^/]*\.js$/)
  await page.goto('/embed/walk-round/')
  await expect.poll(() => refused).not.toEqual([])
  await expect(sentence(page)).toContainText('Bass is')
  await expect(walk(page).locator('.plan img')).toBeVisible()
  expect(crashes).toEqual([])
})

test('storage that never answers: a saved rig is still drawn', async ({ page }) => {
  const crashes = crashesOf(page)
  await deafStorage(page)
  const rig = {
    name: 'mine',
    cabinets: [
      {
        name: 'own box',
        widthM: 0.2,
        heightM: 0.3,
        depthM: 0.2,
        frontCentre: { xM: 0, yM: 1.6, zM: 0 },
        ways: [{ name: 'drivers', drivers: [{ kind: 'piston', radiusM: 0.06, xM: 0, yM: 0 }] }],
      },
    ],
  }
  await page.addInitScript(
    (kept) => localStorage.setItem('round-the-back.rigs', kept),
    JSON.stringify({ version: 1, rigs: [{ key: 'own-mine', name: 'mine', rig }] }),
  )
  await open(page, '/embed/walk-round/?walk.v=1&walk.rig=own-mine&walk.angleDeg=0')
  await expect(walk(page).getByRole('combobox', { name: 'rig', exact: true })).toHaveValue('own-mine')
  await expect(sentence(page)).toContainText('as loud as straight in front at this distance')
  await expect(picture(page)).toBeVisible()
  expect(crashes).toEqual([])
})
