// How soon a large plan answers in the page, and how it follows the hand: a part of in-browser.mjs. Wants a quiet machine.
import { grangePlan } from '../../src/widgets/plan/grange-plan.ts'

/** From a key to the whole answer, without the rest that a plan waits for before it is worked out, ms. */
const wholeAimMs = 500
/** While a box is dragged with a coarse map on: from one frame to the next at the median, ms. */
const frameAimMs = 1000 / 60 + 1
const restMs = 100

/** A plan of 12 boxes and 8 places in the demo hall. */
function largePlan() {
  const plan = grangePlan()
  const [box] = plan.cabinets
  const cabinets = Array.from({ length: 12 }, (_, i) => ({
    ...box,
    id: `c${i}`,
    group: '',
    box: `top-over-sub/${i % 2 ? 'sub' : 'top'}`,
    xM: -4.5 + 1.7 * Math.floor(i / 2),
    zM: 3,
    baseM: i % 2 ? 0 : 1.62,
    yawDeg: 0,
    levelDb: 0,
    delayMs: 0,
    inverted: false,
  }))
  const places = Array.from({ length: 8 }, (_, i) => ({
    id: `p${i}`,
    name: `place ${i}`,
    xM: i - 4,
    zM: 6 + 1.4 * i,
    earM: 1.6,
  }))
  return { ...plan, stage: null, cabinets, places, mainPlace: 'p0' }
}

/**
 * Prints how long the plan takes from a key to the whole answer, and its frames while a box is dragged with the map shown.
 *
 * @param browser  Playwright's
 * @param port     where the site is served
 * @returns        whether both keep their aims
 */
export async function printPlanTimes(browser, port) {
  const page = await browser.newPage({ viewport: { width: 1280, height: 860 } })
  await page.addInitScript((text) => localStorage.setItem('round-the-back.plan', text), JSON.stringify(largePlan()))
  await page.goto(`http://localhost:${port}/plan/`)
  const isDone = () =>
    page.waitForFunction(() => {
      const sheet = document.querySelector('.plan-sheet')
      return (
        sheet && !sheet.querySelector('.old') && sheet.querySelector('.plan-part [role=status]')?.textContent === ''
      )
    })
  await page.locator('.plan-sheet .who tbody tr').nth(7).waitFor()
  await isDone()
  console.log('\nIn the browser: a plan of 12 boxes and 8 places, from a key to the whole answer')
  let isInTime = true
  for (const [what, index] of Object.entries(handles)) {
    const wholeMs = []
    // Each press is a new place: nothing of an answer before is the answer.
    for (let round = 0; round < 8; round++) wholeMs.push((await page.evaluate(pressAndWait, index)) - restMs)
    const [median, worst] = ofSorted(wholeMs.slice(1))
    if (!(median <= wholeAimMs)) isInTime = false
    console.log(line(what, median, worst, `aim ${wholeAimMs} ms, after ${restMs} ms of rest`))
  }
  await page.locator('.plan-sheet div.change > details > summary').click()
  await page.locator('.plan-sheet select:has(option[value=bass])').selectOption('bass')
  await page.waitForFunction(() => document.querySelector('.plan-sheet .plan canvas'))
  await isDone()
  const frames = await framesOfDrag(page, handles['a sub moved'])
  const [median, worst] = ofSorted(frames)
  if (!(median <= frameAimMs)) isInTime = false
  console.log(
    line(
      `dragged, with the map: from frame to frame (${frames.length})`,
      median,
      worst,
      `aim ${frameAimMs.toFixed(0)} ms`,
    ),
  )
  await page.close()
  return isInTime
}

/** Places among the handles of the drawing: subs, then tops, then places. */
const handles = { 'a sub moved': 0, 'a top moved': 6, 'a place moved': 12 }

/** Median, and what 95 of 100 keep. */
function ofSorted(times) {
  const sorted = times.toSorted((a, b) => a - b)
  return [sorted[Math.floor(sorted.length / 2)], sorted[Math.floor(0.95 * (sorted.length - 1))]]
}

const line = (what, median, most, aim) =>
  `${what.padEnd(58)} ${median.toFixed(0).padStart(8)} ms   95 of 100 ${most.toFixed(0)} ms   ${aim}`

/** In the page: presses a key on a handle; how long until all of the plan is worked out, ms. */
async function pressAndWait(index) {
  const sheet = document.querySelector('.plan-sheet')
  const status = sheet.querySelector('.plan-part [role=status]')
  const frame = () => new Promise((resolve) => requestAnimationFrame(resolve))
  const start = performance.now()
  sheet
    .querySelectorAll('.plan [role=slider]')
    [index].dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowUp', bubbles: true }))
  while (status.textContent === '' && performance.now() - start < 1000) await frame()
  while (status.textContent !== '' || sheet.querySelector('.who.old')) await frame()
  return performance.now() - start
}

/** Drags a handle to and fro for two seconds; times from frame to frame, ms. */
async function framesOfDrag(page, index) {
  const handle = page.locator('.plan-sheet .plan [role=slider]').nth(index)
  const { x, y, width, height } = await handle.boundingBox()
  const [fromX, fromY] = [x + width / 2, y + height / 2]
  await page.mouse.move(fromX, fromY)
  await page.mouse.down()
  await page.evaluate(() => {
    window.frames_ = []
    const note = (now) => {
      window.frames_.push(now)
      window.noting = requestAnimationFrame(note)
    }
    window.noting = requestAnimationFrame(note)
  })
  const began = performance.now()
  for (let step = 0; performance.now() - began < 2000; step++)
    await page.mouse.move(fromX + 40 * Math.sin(step / 12), fromY + 20 * Math.sin(step / 7))
  const times = await page.evaluate(() => {
    cancelAnimationFrame(window.noting)
    return window.frames_
  })
  await page.mouse.up()
  return times.slice(1).map((time, i) => time - times[i])
}
