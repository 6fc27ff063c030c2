import finishes from '../../../content/halls/finishes.json' with { type: 'json' }
import { add } from '../../../src/acoustics/complex.ts'
import type { Complex } from '../../../src/acoustics/index.ts'
import { bassDb, crossing, db, freeAt, heardAt, levelOf, linesBetween, power, rig } from './plain-rig.ts'
import { c, once, plain, printedSpeed, type Routes, route } from './route.ts'

const depthM = Math.max(...rig.cabinets.map((cabinet) => cabinet.depthM))
const sub = rig.cabinets.find(({ name }) => name === 'sub')
if (!sub) throw new Error('the rig has no sub')
const ear = 1.6

type FinishName = keyof typeof finishes.finishes
/** √(1 − α), straight lines over lg f between the octaves, held beyond both ends. */
export function reflection(name: FinishName, hz: number): number {
  const { absorption } = finishes.finishes[name]
  const octave = Math.log2(hz / 125)
  const i = Math.min(absorption.length - 2, Math.max(0, Math.floor(octave)))
  const part = Math.min(1, Math.max(0, octave - i))
  return Math.sqrt(1 - ((1 - part) * (absorption[i] as number) + part * (absorption[i + 1] as number)))
}

/** A place on the axis with the rig before a wall: straight, and by the image of the place behind the wall. */
const before =
  (faceM: number, zM: number, finish: FinishName = 'hard-walls') =>
  (hz: number): Complex => {
    const imaged = freeAt({ xM: 0, yM: ear, zM: -2 * faceM - zM }, hz)
    const share = reflection(finish, hz)
    return add(straight(zM)(hz), { re: share * imaged.re, im: share * imaged.im })
  }
const straight = (zM: number) => (hz: number) => freeAt({ xM: 0, yM: ear, zM }, hz)
const changeDb = (faceM: number, finish: FinishName = 'hard-walls') => {
  const [both, without] = [before(faceM, 4, finish), straight(4)]
  return (hz: number) => levelOf(both(hz)) - levelOf(without(hz))
}

/** The lowest dip of 1 dB or more from 25 Hz up, by steps of a thousandth of an octave. */
export function lowestDip(change: (hz: number) => number): { hz: number; depthDb: number } {
  const step = 2 ** (1 / 250)
  let [a, b] = [change(25), change(25 * step)]
  for (let hz = 25 * step * step; hz < 500; hz *= step) {
    const next = change(hz)
    if (b < a && b <= next && b <= -1) return { hz: hz / step, depthDb: -b }
    ;[a, b] = [b, next]
  }
  throw new Error('no dip')
}

const faceM = 1.7
const dip = once(() => lowestDip(changeDb(faceM)))
const equalM = faceM - 0.3
const steps = 'the search goes by 1/250 octave, 0.3 %; the page follows the response between knots of its own'
const dipHz = (value: () => number, sizeHz: number) => route(value, 0.006 * sizeHz, steps)
const lines = '24 lines a third octave here, and other lines on the page: some hundredths of a decibel'

/** Narrow band of 1/24 octave nearest to a frequency, on the page's grid from 25 Hz. */
const narrow = (hz: number) => 25 * 2 ** (Math.round(24 * Math.log2(hz / 25)) / 24)
const narrowDb = (at: (hz: number) => Complex, centreHz: number) =>
  db(
    linesBetween(centreHz * 2 ** (-1 / 48), centreHz * 2 ** (1 / 48), 9).reduce((sum, hz) => sum + power(at(hz)), 0) /
      9,
  )
const rear = before(faceM, -faceM + 0.3)
const frontEqual = before(faceM, equalM)
const moreDb = (centreHz: number) => narrowDb(rear, centreHz) - narrowDb(frontEqual, centreHz)
/** The first narrow band from 25 Hz up in which the place behind has no more than the front. */
const endStep = once(() => {
  for (let step = 0; 25 * 2 ** (step / 24) < 500; step++) if (moreDb(25 * 2 ** (step / 24)) <= 0) return step
  throw new Error('no end')
})
/** The wall's comb at 16 kHz has some fifty teeth in a third octave: lines enough for each. */
const combLines = 400
const [heardRear, heardFront] = [
  once(() => heardAt(before(faceM, -faceM + 0.3), combLines)),
  once(() => heardAt(frontEqual, combLines)),
]

/** Half the way by which the wave to the rear comes later than the one to the front, 200 m away at the sub's height. */
const aheadM = (hz: number) => {
  const at = (zM: number) => freeAt({ xM: 0, yM: sub.frontCentre.yM, zM }, hz)
  const [front, behind] = [at(200), at(-200)]
  const phase = Math.atan2(front.im * behind.re - front.re * behind.im, front.re * behind.re + front.im * behind.im)
  return (phase * c) / (4 * Math.PI * hz)
}

/** Deepest cut of the bass, 30 to 200 Hz, in bands of 1/24 octave. */
const deepest = (gapM: number) => {
  const [both, without] = [before(gapM + depthM, 4), straight(4)]
  let most = Number.NEGATIVE_INFINITY
  for (let i = 7; 25 * 2 ** (i / 24) <= 200; i++) {
    const hz = 25 * 2 ** (i / 24)
    most = Math.max(most, narrowDb(without, hz) - narrowDb(both, hz))
  }
  return most
}
const shallowM = once(() => {
  let [low, high] = [1, 6]
  for (let round = 0; round < 8; round++) {
    const middle = (low + high) / 2
    if (deepest(middle) > 3) low = middle
    else high = middle
  }
  return high
})

const gapsM = { touching: 0.05, close: 0.3, short: 0.6, usual: 1.2, long: 2.5, far: 5 }
const oddHalves = (wayM: number, odd: number) => (odd * c) / (2 * wayM)

export const wallRoutes: Routes = {
  ...Object.fromEntries(
    Object.entries(gapsM).flatMap(([row, gapM]) => {
      const found = once(() => lowestDip(changeDb(gapM + depthM)))
      const rule = () =>
        Array.from({ length: 40 }, (_, i) => oddHalves(2 * (gapM + depthM), 2 * i + 1)).reduce((best, hz) =>
          Math.abs(Math.log(hz / found().hz)) < Math.abs(Math.log(best / found().hz)) ? hz : best,
        )
      return [
        [`gap-${row}`, plain(gapM)],
        [`face-${row}`, plain(gapM + depthM)],
        [`rule-${row}`, route(rule, 0.05, printedSpeed)],
        [`dip-${row}`, dipHz(() => found().hz, 100)],
        [`depth-${row}`, route(() => found().depthDb, 0.15, steps)],
      ]
    }),
  ),
  'face-to-wall': plain(1.7),
  'there-and-back': plain(3.4),
  'box-depth': plain(depthM),
  'speed-of-sound': route(() => c, 0.05, printedSpeed),
  'rule-dip': route(() => oddHalves(3.4, 1), 0.01, printedSpeed),
  'rule-rise': route(() => c / 3.4, 0.02, printedSpeed),
  'rule-second-dip': route(() => oddHalves(3.4, 3), 0.02, printedSpeed),
  dip: dipHz(() => dip().hz, 50),
  'dip-depth': route(() => dip().depthDb, 0.15, steps),
  'change-at-rule-rise': route(() => changeDb(faceM)(100), 0.1, lines),
  'seems-farther': route(() => (c / (2 * dip().hz) - 3.4) / 2, 0.015, steps),
  'centre-ahead': route(() => aheadM(dip().hz), 0.005, steps),
  'dip-shift': route(() => dip().hz * (Math.sqrt(303.15 / 293.15) - 1), 0.01, steps),
  'front-distance': plain(4),
  'equal-distance': plain(equalM),
  'rear-off-wall': plain(0.3),
  'more-from': route(() => (endStep() > 0 ? 25 : Number.NaN), 1e-9, 'where the chart begins'),
  'more-to': route(
    () => crossing(moreDb, 25 * 2 ** ((endStep() - 1) / 24), 25 * 2 ** (endStep() / 24), 12),
    0.5,
    'a straight line between bands of 1/24 octave on the page, halved here: a seventh of a step',
  ),
  'more-at-dip': route(() => moreDb(narrow(oddHalves(3.4, 1))), 0.1, lines),
  'apart-at-rise': route(() => Math.abs(moreDb(narrow(c / 3.4))), 0.1, lines),
  'bass-at-equal-distance': route(() => bassDb(rear) - bassDb(frontEqual), 0.1, lines),
  'share-rear': route(() => 100 * heardRear().share, 0.5, lines),
  'share-front': route(() => 100 * heardFront().share, 0.5, lines),
  'mic-off-wall': plain(1),
  'mic-dip': route(() => c / 4, 0.05, printedSpeed),
  'dip-depth-timber': route(() => lowestDip(changeDb(faceM, 'wooden-lining')).depthDb, 0.15, steps),
  'dip-depth-curtain': route(() => lowestDip(changeDb(faceM, 'cotton-curtains')).depthDb, 0.15, steps),
  'shallow-beyond': route(shallowM, 0.05, 'halved eight times between 1 and 6 m, 0.02 m, and lines as above'),
  'shallow-dip': plain(3),
  'turned-face': plain(0.05 + sub.widthM / 2),
  'turned-dip': route(() => oddHalves(2 * (0.05 + sub.widthM / 2), 1), 0.2, printedSpeed),
  'metre-rule': route(() => c / 4, 0.05, printedSpeed),
  'fill-power': route(() => 10 ** (dip().depthDb / 10), 0.04 * 10 ** (dip().depthDb / 10), steps),
}
