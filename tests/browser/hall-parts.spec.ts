import { readFileSync } from 'node:fs'
import { expect, type Page } from '@playwright/test'
import type { Rig } from '../../src/acoustics/index.ts'
import { hallAnswer } from '../../src/engine/questions/hall/hall-parts.ts'
import { demoHallStates } from '../../src/engine/scene/hall-content.ts'
import { loadSolvedRig } from '../../src/engine/scene/solved-gear.ts'
import { defaultState } from '../../src/state/share-link.ts'
import { hallSentence } from '../../src/widgets/hall-parts/describe-hall-parts.ts'
import { type HallPartsState, hallPartsLink, questionOf } from '../../src/widgets/hall-parts/hall-parts-link.ts'
import { expectAccessible, expectNoSidewaysScroll, hear, listen, wakeFigures } from './page-checks.ts'
import { test } from './test.ts'

const path = '/lessons/the-hall-fills-the-rest/'
const figure = (page: Page) => page.getByRole('region', { name: 'A loudspeaker in a hall' })
const guess = (page: Page) => page.getByRole('region', { name: 'Guess the treble behind the box' })
const sentence = (page: Page) => figure(page).locator('.sentence')
const listener = (page: Page) => figure(page).getByRole('slider', { name: /^Listener/ })

const rig = JSON.parse(readFileSync('content/gear/top-over-sub.json', 'utf8')) as Rig
test.beforeAll(() => loadSolvedRig(rig))

/** The sentence that the module gives for a state. */
function expected(change: Partial<HallPartsState> = {}) {
  const state = { ...defaultState(hallPartsLink(['top-over-sub'])), ...change }
  return hallSentence(hallAnswer(questionOf(state, rig, demoHallStates)), state, 'm')
}

async function open(page: Page, query = '') {
  await page.goto(`${path}${query}`)
  await figure(page).scrollIntoViewIfNeeded()
  await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
  await expect(figure(page).locator('.plan-part [role=status]')).toHaveText('')
}

test('keys move the listener, another hall changes what is said, and the link restores it', async ({
  page,
  browser,
}) => {
  await open(page)
  await expect(sentence(page)).toHaveText(expected())
  await listener(page).focus()
  for (let press = 0; press < 4; press++) await page.keyboard.press('ArrowDown')
  await page.keyboard.press('ArrowRight')
  await expect(sentence(page)).toHaveText(expected({ xM: 1, zM: -2.25 }))
  await figure(page).getByRole('combobox').first().selectOption('curtains')
  await expect(sentence(page)).toHaveText(expected({ xM: 1, zM: -2.25, hall: 'curtains' }))
  await expect(page).toHaveURL(/hall\.hall=curtains/)
  const other = await browser.newPage()
  await open(other, new URL(page.url()).search)
  await expect(sentence(other)).toHaveText(expected({ xM: 1, zM: -2.25, hall: 'curtains' }))
  await other.close()
})

test('a drag stops at the wall and at the box', async ({ page }) => {
  await open(page)
  const plan = figure(page).locator('.plan-part .plan')
  await plan.scrollIntoViewIfNeeded()
  const box = await plan.boundingBox()
  const handle = await listener(page).locator('.head').boundingBox()
  if (!box || !handle) throw new Error('no plan')
  await page.mouse.move(handle.x + handle.width / 2, handle.y + handle.height / 2)
  await page.mouse.down()
  await page.mouse.move(box.x + box.width + 200, box.y + box.height + 200, { steps: 4 })
  await page.mouse.up()
  await expect(page).toHaveURL(/hall\.xM=7\.8.*hall\.zM=14\.8/)
  const metres = box.width / 18
  await page.mouse.click(box.x + 2.8 * metres, box.y + 3 * metres)
  await expect.poll(() => new URL(page.url()).searchParams.get('hall.zM')).not.toBe('14.8')
  await expect(figure(page).locator('.plan-part [role=status]')).toHaveText('')
  await expect(figure(page).locator('.notices p')).toHaveCount(0)
})

test('the map follows the frequency, and names the place of the loudest', async ({ page }) => {
  await open(page, '?hall.v=1&hall.view=resonances')
  await expect(figure(page).locator('canvas')).toHaveCount(1)
  await expect(sentence(page)).toHaveText(
    /^At 47 Hz the loudest place is a corner at the wall behind the loudspeaker, \d+ dB over/,
  )
  await figure(page).getByRole('button', { name: 'resonance above' }).click()
  await expect(sentence(page)).toHaveText(/^At 47\.5 Hz/)
  await figure(page).getByLabel('the rig stands').selectOption('middle')
  await expect(page).toHaveURL(/hall\.source=middle/)
})

test('a place outside, a hall of no size and absorption beyond 1 are told, and the last picture stays', async ({
  page,
}) => {
  const complaints = listen(page)
  await open(page, '?hall.v=1&hall.zM=-9&hall.hall=own&hall.widthM=0&hall.absorption=1.5')
  await expect(figure(page).locator('.notices')).toContainText('widthM “0” (outside 7 to 40 m)')
  await expect(figure(page).locator('.notices')).toContainText('absorption “1.5” (outside 0.03 to 0.8)')
  await expect(figure(page).locator('.notices')).toContainText(
    'outside the hall; allowed is any place within its walls',
  )
  await expect(sentence(page)).toHaveText(expected())
  await listener(page).focus()
  await page.keyboard.press('ArrowRight')
  await expect(figure(page).locator('.notices')).not.toContainText('outside the hall')
  expect(complaints).toEqual([])
})

test('sound starts only on a press, says that it makes the hall, and plays', async ({ page }) => {
  const complaints = listen(page)
  await open(page)
  const here = figure(page).locator('.place-switch .here')
  await here.click()
  await expect(figure(page).getByText('Making the hall …')).toBeVisible()
  await expect(here).toHaveAttribute('aria-pressed', 'true')
  await expect(figure(page).getByText('Making the hall …')).toHaveCount(0)
  await hear(figure(page), 'front')
  await figure(page).getByRole('radio', { name: 'here: this hall and free air' }).check()
  await expect(figure(page).getByRole('button', { name: 'here, in free air' })).toHaveAttribute('aria-pressed', 'true')
  await figure(page).getByRole('button', { name: /stop/ }).click()
  expect(complaints).toEqual([])
})

test('the guess is told and kept in the link', async ({ page }) => {
  await page.goto(path)
  await wakeFigures(page)
  await guess(page)
    .getByRole('slider', { name: /^treble behind, bare/ })
    .fill('-20')
  await guess(page)
    .getByRole('slider', { name: /^treble behind, with curtains|^treble behind, curtains/ })
    .fill('-25')
  await expect(page).toHaveURL(/guess-hall\.bareDb=-20/)
  await guess(page).getByRole('button', { name: 'show the computed levels' }).click()
  await expect(guess(page).locator('.sentence')).toContainText('Bare, you were 13 dB too low')
})

for (const [shown, query] of [
  ['the first hall', ''],
  ['resonances of an own hall', '?hall.v=1&hall.view=resonances&hall.hall=own'],
] as const) {
  test(`with ${shown} there is no accessibility violation, and nothing scrolls sideways`, async ({ page }) => {
    await open(page, query)
    await expectAccessible(page)
    await expectNoSidewaysScroll(page)
  })
}

test.describe('without JavaScript', () => {
  test.use({ javaScriptEnabled: false })
  test('the words, the plan, the lines and the sentence of the first state are there', async ({ page }) => {
    await page.goto(path)
    await expect(sentence(page)).toHaveText(expected())
    await expect(figure(page).locator('.plan-part .equal')).toBeAttached()
    await expect(figure(page).locator('.pair path').first()).toBeAttached()
    await expect(page.getByRole('button').and(page.locator(':not(.term)'))).toHaveCount(0)
    await page.getByRole('heading', { name: 'How do power, distance and walls balance?' }).click()
    await expect(page.locator('.katex-display').first()).toBeVisible()
  })
})
