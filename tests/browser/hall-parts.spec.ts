import { readFileSync } from 'node:fs'
import AxeBuilder from '@axe-core/playwright'
import { expect, type Page, test } from '@playwright/test'
import type { Rig } from '../../src/acoustics/index.ts'
import { hallAnswer } from '../../src/engine/questions/hall/hall-parts.ts'
import { demoHallStates } from '../../src/engine/scene/hall-content.ts'
import { loadSolvedRig } from '../../src/engine/scene/solved-gear.ts'
import { defaultState } from '../../src/state/share-link.ts'
import { hallSentence } from '../../src/widgets/hall-parts/describe-hall-parts.ts'
import { type HallPartsState, hallPartsLink, questionOf } from '../../src/widgets/hall-parts/hall-parts-link.ts'

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

/** The first answer of a hall takes seconds on a slow machine. */
const slow = { timeout: 20_000 }

async function open(page: Page, query = '') {
  await page.goto(`${path}${query}`)
  await figure(page).scrollIntoViewIfNeeded()
  await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
  await expect(figure(page).locator('.plan-part [role=status]')).toHaveText('', slow)
}

function complaintsOf(page: Page) {
  const complaints: string[] = []
  page.on('console', (message) => complaints.push(`${message.type()}: ${message.text()}`))
  page.on('pageerror', (error) => complaints.push(`error: ${error.message}`))
  return complaints
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
  await expect(sentence(page)).toHaveText(expected({ xM: 1, zM: -2.25 }), slow)
  await figure(page).getByRole('combobox').first().selectOption('curtains')
  await expect(sentence(page)).toHaveText(expected({ xM: 1, zM: -2.25, hall: 'curtains' }), slow)
  await expect(page).toHaveURL(/hall\.hall=curtains/)
  const other = await browser.newPage()
  await open(other, new URL(page.url()).search)
  await expect(sentence(other)).toHaveText(expected({ xM: 1, zM: -2.25, hall: 'curtains' }), slow)
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
  await expect(figure(page).locator('.plan-part [role=status]')).toHaveText('', slow)
  await expect(figure(page).locator('.notices p')).toHaveCount(0)
})

test('the map follows the frequency, and names the place of the loudest', async ({ page }) => {
  await open(page, '?hall.v=1&hall.view=resonances')
  await expect(figure(page).locator('canvas')).toHaveCount(1, slow)
  await expect(sentence(page)).toHaveText(
    /^At 47 Hz the loudest place is a corner at the wall behind the loudspeaker, \d+ dB over/,
  )
  await figure(page).getByRole('button', { name: 'resonance above' }).click()
  await expect(sentence(page)).toHaveText(/^At 47\.5 Hz/, slow)
  await figure(page).getByLabel('the rig stands').selectOption('middle')
  await expect(page).toHaveURL(/hall\.source=middle/)
})

test('a place outside, a hall of no size and absorption beyond 1 are told, and the last picture stays', async ({
  page,
}) => {
  const complaints = complaintsOf(page)
  await open(page, '?hall.v=1&hall.zM=-9&hall.hall=own&hall.widthM=0&hall.absorption=1.5')
  await expect(figure(page).locator('.notices')).toContainText('widthM “0” (outside 7 to 40 m)')
  await expect(figure(page).locator('.notices')).toContainText('absorption “1.5” (outside 0.03 to 0.8)')
  await expect(figure(page).locator('.notices')).toContainText(
    'outside the hall; allowed is any place within its walls',
    slow,
  )
  await expect(sentence(page)).toHaveText(expected())
  await listener(page).focus()
  await page.keyboard.press('ArrowRight')
  await expect(figure(page).locator('.notices')).not.toContainText('outside the hall', slow)
  expect(complaints).toEqual([])
})

test('sound starts only on a press, says that it makes the hall, and plays', async ({ page }) => {
  test.slow()
  const complaints = complaintsOf(page)
  await open(page)
  const here = figure(page).getByRole('button', { name: 'Hear it here' })
  await here.click()
  await expect(figure(page).getByText('Making the hall …')).toBeVisible({ timeout: 20_000 })
  await expect(here).toHaveAttribute('aria-pressed', 'true', { timeout: 30_000 })
  await expect(figure(page).getByText('Making the hall …')).toHaveCount(0, { timeout: 30_000 })
  await figure(page).getByRole('button', { name: '▶ in front' }).click()
  await figure(page).getByRole('radio', { name: 'here: this hall and outdoors' }).check()
  await expect(figure(page).getByRole('button', { name: 'here, outdoors' })).toHaveAttribute('aria-pressed', 'true', {
    timeout: 30_000,
  })
  await figure(page).getByRole('button', { name: /stop/ }).click()
  expect(complaints).toEqual([])
})

test('the guess is told and kept in the link', async ({ page }) => {
  await page.goto(path)
  await guess(page).scrollIntoViewIfNeeded()
  await expect(async () => {
    await guess(page)
      .getByRole('slider', { name: /^treble behind, bare/ })
      .fill('-20')
    await expect(page).toHaveURL(/guess-hall\.bareDb=-20/, { timeout: 1000 })
  }).toPass()
  await guess(page).getByRole('button', { name: 'show the computed levels' }).click()
  await expect(guess(page).locator('.sentence')).toContainText('Bare, you were 13 dB too low')
})

for (const [theme, query] of [
  ['light', ''],
  ['dark', '?hall.v=1&hall.view=resonances&hall.hall=own'],
] as const) {
  test(`in ${theme} there is no accessibility violation, and nothing scrolls sideways`, async ({ page }) => {
    await page.addInitScript(
      (kept) => localStorage.setItem('round-the-back.preferences', kept),
      JSON.stringify({ theme }),
    )
    await open(page, query)
    const { violations } = await new AxeBuilder({ page }).analyze()
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target).join(' ')}`)).toEqual([])
    for (const width of [360, 390, 768, 1280]) {
      await page.setViewportSize({ width, height: 800 })
      await page.waitForTimeout(80)
      const over = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      )
      expect(over, `${width} px`).toBeLessThanOrEqual(0)
    }
  })
}

test.describe('without JavaScript', () => {
  test.use({ javaScriptEnabled: false })
  test('the words, the plan, the lines and the sentence of the first state are there', async ({ page }) => {
    await page.goto(path)
    await expect(sentence(page)).toHaveText(expected())
    await expect(figure(page).locator('.plan-part .equal')).toBeAttached()
    await expect(figure(page).locator('.pair path').first()).toBeAttached()
    await expect(page.getByRole('button')).toHaveCount(0)
    await expect(page.locator('.katex-display').first()).toBeVisible()
  })
})
