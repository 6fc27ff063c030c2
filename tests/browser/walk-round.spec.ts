import { expect, type Page } from '@playwright/test'
import { clearPlace, type DistanceDatum, placeBetweenWalls } from '../../src/acoustics/index.ts'
import { walkAnswer } from '../../src/engine/questions/walk/walk.ts'
import { loadSolvedRig } from '../../src/engine/scene/solved-gear.ts'
import { groundSentence, wallSentence } from '../../src/widgets/walk-round/describe-surroundings.ts'
import { walkSentence } from '../../src/widgets/walk-round/describe-walk-round.ts'
import { demoRigNames, rigOf } from '../demo-gear.ts'
import { framesPass, hear, listen, player } from './page-checks.ts'
import { withMotion } from './readers.ts'
import { anotherReader, test } from './test.ts'

test.use(withMotion)

test.beforeAll(async () => {
  for (const name of demoRigNames()) await loadSolvedRig(rigOf(name))
})

/** The sentence that the acoustics module gives for a state of the widget. */
function expectedSentence(
  angleDeg: number,
  distanceM: number,
  rigName = 'top-over-sub',
  datum: DistanceDatum = 'front-face',
) {
  const rig = rigOf(rigName)
  const place = clearPlace({ angleRad: (angleDeg * Math.PI) / 180, distanceM }, rig)
  return walkSentence(walkAnswer({ rig, place, datum }), angleDeg, 'm')
}

const sentence = (page: Page) => page.locator('.sentence')
const listener = (page: Page) => page.getByRole('slider', { name: /^Listener/ })

async function open(page: Page, path = '/') {
  await page.goto(path)
  await expect(page.locator('.plan canvas')).toBeVisible()
}

/** Drags the listener to a plan place (m); the plan shows ±4.4 m, forward to the right. */
async function dragTo(page: Page, xM: number, zM: number) {
  const handle = await listener(page).locator('.head').boundingBox()
  const plan = await page.locator('.plan').boundingBox()
  if (!handle || !plan) throw new Error('the plan is not on the page')
  await page.mouse.move(handle.x + handle.width / 2, handle.y + handle.height / 2)
  await page.mouse.down()
  const [left, top] = [plan.x + ((zM + 4.4) / 8.8) * plan.width, plan.y + ((xM + 4.4) / 8.8) * plan.height]
  await page.mouse.move(left + 20, top + 5, { steps: 5 })
  await page.mouse.move(left, top, { steps: 3 })
  await page.mouse.up()
}

test('the first state is the one that was computed at build', async ({ page }) => {
  await open(page)
  await expect(sentence(page)).toHaveText(expectedSentence(180, 2.5))
})

test('arrow keys walk round by 5° and away by 0.25 m, and the numbers are the module’s', async ({ page }) => {
  await open(page)
  await listener(page).focus()
  for (let press = 0; press < 6; press++) await page.keyboard.press('ArrowRight')
  await expect(listener(page)).toHaveAttribute('aria-valuenow', '-150')
  await expect(sentence(page)).toHaveText(expectedSentence(-150, 2.5))
  await page.keyboard.press('ArrowUp')
  await expect(sentence(page)).toHaveText(expectedSentence(-150, 2.75))
  for (let press = 0; press < 12; press++) await page.keyboard.press('ArrowLeft')
  await page.keyboard.press('ArrowDown')
  await page.keyboard.press('ArrowDown')
  await expect(sentence(page)).toHaveText(expectedSentence(150, 2.25))
})

test('a drag moves the listener, the sentence and the table to the module’s values', async ({ page }) => {
  await open(page)
  await dragTo(page, 3, 0)
  let [angleDeg, distanceM] = [0, 0]
  // The address follows a drag now and then, and at its end: wait until both have come to rest.
  await expect(async () => {
    angleDeg = Number(await listener(page).getAttribute('aria-valuenow'))
    distanceM = Number(new URL(page.url()).searchParams.get('walk.distanceM'))
    expect(Math.abs(angleDeg - 90)).toBeLessThanOrEqual(1)
    expect(distanceM).toBeCloseTo(3, 1)
    await expect(sentence(page)).toHaveText(expectedSentence(angleDeg, distanceM), { timeout: 1000 })
  }).toPass()

  await page.locator('summary', { hasText: 'table' }).click()
  const rig = rigOf('top-over-sub')
  const answer = walkAnswer({
    rig,
    place: { angleRad: (angleDeg * Math.PI) / 180, distanceM },
    datum: 'front-face',
  })
  const row = page.getByRole('row', { name: /^1000 / })
  await expect(row.getByRole('cell').nth(2)).toHaveText((answer.hereDb[15] ?? Number.NaN).toFixed(1).replace('-', '−'))
})

test('a finger drags too', async ({ browser }) => {
  const context = await anotherReader(browser, { hasTouch: true, viewport: { width: 390, height: 844 } })
  const page = await context.newPage()
  await open(page)
  await page.locator('.plan').scrollIntoViewIfNeeded()
  const headInPlace = async () => {
    const head = await listener(page).locator('.head').boundingBox()
    if (!head) throw new Error('no handle')
    return head
  }
  const head = await headInPlace()
  const client = await context.newCDPSession(page)
  const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', x: number, y: number) =>
    client.send('Input.dispatchTouchEvent', { type, touchPoints: type === 'touchEnd' ? [] : [{ x, y }] })
  const [x, y] = [head.x + head.width / 2, head.y + head.height / 2]
  await touch('touchStart', x, y)
  for (let step = 1; step <= 12; step++) await touch('touchMove', x + step * 8, y + step * 6)
  await touch('touchEnd', 0, 0)
  const end = await headInPlace()
  // To the end of the way, not only its first step: the page must not take the finger for a scroll, nor longer words move the plan.
  expect(Math.abs(end.x - head.x - 96)).toBeLessThan(6)
  expect(Math.abs(end.y - head.y - 72)).toBeLessThan(6)
  await context.close()
})

test('the link restores everything: place, rig, measure, picture, sound choices and feet', async ({ page }) => {
  await open(page)
  await page.getByRole('combobox', { name: 'rig' }).selectOption('compact-two-way')
  await page.getByLabel('distance from').selectOption('nearest-face')
  await page.getByLabel('plan shows').selectOption('levels')
  await page.getByRole('combobox', { name: 'frequencies' }).selectOption('one')
  await hear(page.locator('.figure'))
  await player(page).getByLabel('music').check()
  await player(page).getByLabel('matched').check()
  await listener(page).focus()
  await page.keyboard.press('ArrowLeft')
  await page.getByRole('button', { name: 'Lengths in feet' }).click()
  await expect(page).toHaveURL(/walk\.units=ft/)
  const said = await sentence(page).textContent()
  const address = page.url()

  const fresh = await anotherReader(page.context().browser())
  const other = await fresh.newPage()
  await open(other, address)
  await expect(sentence(other)).toHaveText(said ?? '')
  await expect(other.getByRole('combobox', { name: 'rig' })).toHaveValue('compact-two-way')
  await expect(other.getByLabel('distance from')).toHaveValue('nearest-face')
  await expect(other.getByLabel('plan shows')).toHaveValue('levels')
  await hear(other.locator('.figure'))
  await expect(other.getByLabel('music')).toBeChecked()
  await expect(other.getByLabel('matched')).toBeChecked()
  await expect(other.locator('.notices')).toBeEmpty()
  await fresh?.close()
})

test('a drag replaces the address and leaves the way back alone', async ({ page }) => {
  await page.goto('/lessons/')
  await open(page)
  await listener(page).focus()
  for (let press = 0; press < 5; press++) await page.keyboard.press('ArrowRight')
  await expect(page).toHaveURL(/walk\.angleDeg=-155/)
  await page.goBack()
  await expect(page).toHaveURL(/\/lessons\/$/)
})

test.describe('bad links open the page with what could be read and one line saying what was dropped', () => {
  for (const [query, kept, said] of [
    ['walk.v=1&walk.angleDeg=90&walk.distanceM=900', [90, 2.5], 'distanceM “900” (outside 0.25 to 4 m)'],
    ['walk.v=99&walk.angleDeg=45&walk.shape=round', [45, 2.5], 'a newer version'],
    ['walk.rig=%3Cimg%20src%3Dx%20onerror%3Dalert(1)%3E&walk.angleDeg=0', [0, 2.5], 'rig “<img src=x'],
    ['walk.distanceM=NaN&walk.datum=__proto__&walk.angleDeg=%ff', [180, 2.5], 'datum “__proto__”'],
    [`walk.rig=${'9'.repeat(5000)}`, [180, 2.5], 'too long'],
  ] as const) {
    test(query.slice(0, 60), async ({ page }) => {
      const heard = listen(page)
      await open(page, `/?${query}`)
      await expect(sentence(page)).toHaveText(expectedSentence(kept[0], kept[1]))
      await expect(page.locator('.notices p')).toHaveCount(1)
      await expect(page.locator('.notices p')).toContainText(said)
      expect(heard).toEqual([])
    })
  }
})

test('a link to a place inside the box is moved out of it', async ({ page }) => {
  await open(page, '/?walk.v=1&walk.angleDeg=180&walk.distanceM=0.3')
  await expect(sentence(page)).toHaveText(expectedSentence(180, 0.3))
  await expect(sentence(page)).toContainText('You are 0.9 m behind')
})

test('without workers the page computes by itself, draws, and says so', async ({ page }) => {
  await page.addInitScript(() => {
    Object.defineProperty(window, 'Worker', {
      value: class {
        constructor() {
          throw new DOMException('blocked', 'SecurityError')
        }
      },
    })
  })
  await open(page, '/?walk.angleDeg=90')
  await expect(sentence(page)).toHaveText(expectedSentence(90, 2.5))
  await expect(page.locator('.notices')).toContainText('Background workers are off')
})

test('without Web Audio the page explains and draws, and says what is off when play is pressed', async ({ page }) => {
  await page.addInitScript(() => {
    for (const name of ['AudioContext', 'webkitAudioContext', 'OfflineAudioContext', 'webkitOfflineAudioContext'])
      Object.defineProperty(window, name, { value: undefined })
  })
  await open(page)
  await page.locator('.figure .place-switch .here').click()
  await expect(player(page).getByRole('status')).toContainText('no Web Audio')
  await listener(page).focus()
  await page.keyboard.press('ArrowRight')
  await expect(sentence(page)).toHaveText(expectedSentence(-175, 2.5))
})

test('nothing is loaded for sound and no audio context exists before a press', async ({ page }) => {
  await page.addInitScript(() => {
    const made: string[] = []
    Object.assign(window, { madeContexts: made })
    for (const name of ['AudioContext', 'OfflineAudioContext'] as const) {
      const original = window[name]
      Object.defineProperty(window, name, {
        value: new Proxy(original, {
          construct(target, parameters, self) {
            made.push(name)
            return Reflect.construct(target, parameters, self)
          },
        }),
      })
    }
  })
  const scripts: string[] = []
  page.on('request', (request) => request.resourceType() === 'script' && scripts.push(request.url()))
  const heard = listen(page)
  await open(page)
  await listener(page).focus()
  await page.keyboard.press('ArrowRight')
  await expect(page).toHaveURL(/walk\.angleDeg=-175/)
  await expect(sentence(page)).toHaveText(expectedSentence(-175, 2.5))
  expect(await page.evaluate(() => (window as unknown as { madeContexts: string[] }).madeContexts)).toEqual([])
  expect(scripts.filter((address) => /audition/.test(address))).toEqual([])

  const front = page.locator('.figure .place-switch .front')
  await hear(page.locator('.figure'))
  expect(scripts.filter((address) => /audition\./.test(address))).toHaveLength(1)
  await front.click()
  await expect(front).toHaveAttribute('aria-pressed', 'true')
  await player(page).getByRole('button', { name: '■ stop', exact: true }).click()
  await expect(front).toHaveAttribute('aria-pressed', 'false')
  expect(heard).toEqual([])
})

test('every slider has its name', async ({ page }) => {
  await open(page, '/?walk.bands=one')
  await hear(page.locator('.figure'))
  for (const name of [/^frequency/, /^direction/, /^distance/, /^volume/])
    await expect(page.getByRole('slider', { name })).toHaveCount(1)
})

test('waves stand still under reduced motion and on request', async ({ page }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await open(page)
  const picture = () => page.locator('.plan canvas').evaluate((canvas: HTMLCanvasElement) => canvas.toDataURL())
  await framesPass(page)
  const before = await picture()
  await framesPass(page, 24)
  expect(await picture()).toBe(before)
  await page.getByRole('button', { name: 'let the waves run' }).click()
  await expect.poll(picture).not.toBe(before)
})

test('in front of a wall a drag stops at it, and the words are the module’s for that case', async ({ page }) => {
  await open(page, '/embed/walk-round/?walk.v=1&walk.surroundings=wall&walk.wallM=1')
  await dragTo(page, 0.4, -4)
  const rig = rigOf('top-over-sub')

  await expect(page.locator('.walk p.wall')).toContainText('The wall 1 m behind the box')
  // The drag ends on a whole pixel, about 4 cm wide.
  await expect(sentence(page)).toContainText(/You are 1\.(55|6) m behind/)
  await page.getByRole('slider', { name: 'box to wall' }).fill('0.3')
  const place = placeBetweenWalls(
    { angleRad: Math.PI, distanceM: 3 },
    rig,
    { xMinM: -Infinity, xMaxM: Infinity, zMinM: -0.66 - 0.3, zMaxM: Infinity },
    0.12,
  )
  await page.getByRole('slider', { name: 'direction' }).fill('180')
  await page.getByRole('slider', { name: 'distance' }).fill('3')
  const answer = walkAnswer({ rig, place, datum: 'front-face', surroundings: { kind: 'wall', gapM: 0.3 } })
  await expect(sentence(page)).toHaveText(walkSentence(answer, Math.round((place.angleRad * 180) / Math.PI), 'm'))
  await expect(page.locator('p.wall')).toHaveText(wallSentence(answer, 0.3, 'm'))
})

test('on the ground the words are the module’s, and a link keeps which ground', async ({ page }) => {
  await open(page, '/embed/walk-round/')
  await page.getByRole('combobox', { name: 'place', exact: true }).selectOption({ label: 'on grass' })
  const rig = rigOf('top-over-sub')
  const place = { angleRad: Math.PI, distanceM: 2.5 }
  const on = (floor: 'hard' | 'grass') =>
    walkAnswer({ rig, place, datum: 'front-face', surroundings: { kind: 'outdoors', floor } })
  await expect(sentence(page)).toHaveText(walkSentence(on('grass'), 180, 'm'))
  await expect(page.locator('p.wall')).toHaveText(groundSentence(on('grass')))
  await expect(page.locator('.caption').first()).toContainText('in free air')
  await expect(page.locator('.change summary').first()).toContainText('on grass')
  await expect.poll(() => new URL(page.url()).searchParams.get('walk.surroundings')).toBe('grass')
  await page.getByRole('combobox', { name: 'place', exact: true }).selectOption({ label: 'on hard ground' })
  await expect(page.locator('p.wall')).toHaveText(groundSentence(on('hard')))
})

test('in the hall the words say what the hall did, and the listener stops at its walls', async ({ page }) => {
  await page.goto('/embed/walk-round/?walk.v=1&walk.surroundings=hall&walk.hall=curtains')
  await expect(page.locator('p.wall')).toContainText(
    'The hall carries treble to you: in free air, treble here would be',
  )
  await expect(page.locator('.plan line.wall')).toHaveCount(2)
  await expect(page.locator('.plan img')).toHaveCount(0)
  await dragTo(page, -4.2, -4)
  await expect(listener(page)).toHaveAttribute('aria-valuenow', '-135')
  await expect(page.getByLabel('plan shows')).toHaveCount(0)
})
