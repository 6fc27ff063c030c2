import type { Point } from '../../../src/acoustics/index.ts'
import { crossing } from './plain-rig.ts'
import {
  type Box,
  bandLines,
  linesIn,
  type Merits,
  merits,
  pressureAt,
  row,
  size,
  stackOf,
  usable,
} from './plain-steer.ts'
import { c, once, plain, printedSpeed, type Route, type Routes, readOut, route } from './route.ts'

const exact =
  'the same lines and places; every line is solved here and every quarter of an octave there, the sums are written a second time, and the speed of sound is printed to 0.1 m/s'
const level = (value: () => number) => route(value, 0.05, exact)
const band = linesIn(40, 100)

const [spacingM, delayS] = [1.35, 0.0039]
/** What goes wrong: a third of a millisecond or so, a decibel, and a wall half a metre behind. */
const [lateS, quietDb, wallGapM] = [0.0003, 1, 0.5]
const pair = (change: Partial<Box> = {}): Box[] => [
  { xM: 0, zM: 0 },
  { xM: 0, zM: -spacingM, delayS, sign: -1, ...change },
]
const of = (
  boxes: Box[],
  ...more: Parameters<typeof merits> extends [unknown, unknown, ...infer Rest] ? Rest : never
) => once(() => merits(boxes, band, ...more))
const named = (name: string, found: () => Merits, ...keys: ('rejection' | 'loss' | 'cut')[]): Routes =>
  Object.fromEntries(keys.map((key) => [`${name}-${key}`, level(() => found()[key])]))

/** A wall behind the set, its distance from the rearmost back. */
const wallBehind = (gapM: number) => -spacingM - size.depthM - gapM

/** Two boxes in one place against one of them, far away, at the middle of the band. */
function stackGainDb(): number {
  const at = (boxes: Box[]) => {
    const { re, im } = pressureAt(boxes, { xM: 0, yM: 0, zM: 1000 }, 63, { point: true })
    return 10 * Math.log10(re * re + im * im)
  }
  return at(stackOf(2, true)) - at(stackOf(1, true))
}

const set = of(pair())
const late = of(pair({ delayS: delayS + lateS }))
const quiet = of(pair({ dB: -quietDb }))
const polarity = of(pair({ sign: 1 }))
/** The wall would cut the table off: it then stands 5 cm before the wall. */
const walled = of(pair(), { behind: row(0, wallBehind(wallGapM) + 0.05) }, { wallZM: wallBehind(wallGapM) })
const far = of(pair(), { behind: row(0, -8) })
const usablePair = once(() => usable(pair()))
const at40 = once(() => merits(pair(), bandLines(40)))
const usableRoutes = (name: string, found: () => { from: number; to: number }): Routes => ({
  [`${name}-usable-from`]: route(() => found().from, 0.01, exact),
  [`${name}-usable-to`]: route(() => found().to, 0.01, exact),
})

/** By the book: a quarter wave of the middle of 40 to 100 Hz, on the grid of 5 cm; delays the way over the speed of sound, to a tenth of a millisecond. */
const bookM = 0.05 * Math.round(c / (4 * Math.sqrt(40 * 100)) / 0.05)
const wayS = (lengthM: number) => 1e-4 * Math.round(1e4 * (lengthM / c))
const line = (count: number, apartM: number): Box[] =>
  Array.from({ length: count }, (_, i) => ({ xM: 0, zM: (i - (count - 1)) * apartM, delayS: i * wayS(apartM) }))
const trioM = 0.05 * Math.round(size.depthM / 0.05)
const trio = (change: Partial<Box>): Box[] =>
  [-1, 0, 1].map((side) => ({
    xM: side * size.widthM,
    zM: side === 0 ? -trioM : 0,
    ...(side === 0 ? { turned: true, ...change } : {}),
  }))
const bookTrio = trio({ sign: -1, delayS: wayS(trioM) })
const bookPair: Box[] = [
  { xM: 0, zM: 0 },
  { xM: 0, zM: -bookM, delayS: wayS(bookM), sign: -1 },
]
function outline(boxes: Box[]): { width: number; depth: number } {
  const xs = boxes.flatMap(({ xM }) => [xM - size.widthM / 2, xM + size.widthM / 2])
  const zs = boxes.flatMap(({ zM, turned }) => [zM, turned ? zM + size.depthM : zM - size.depthM])
  return { width: Math.max(...xs) - Math.min(...xs), depth: Math.max(...zs) - Math.min(...zs) }
}
/** Where the table of a set stands beside others: 2 m behind its rearmost back, to 5 cm. */
const comparedRow = (boxes: Box[]) => row(0, -0.05 * Math.round((outline(boxes).depth + 2) / 0.05))
/** A set beside others. */
function compared(name: string, boxes: Box[]): Routes {
  const { width, depth } = outline(boxes)
  const behind = comparedRow(boxes)
  const found = of(boxes, { behind })
  return {
    ...named(name, found, 'rejection', 'loss'),
    ...usableRoutes(
      name,
      once(() => usable(boxes, behind)),
    ),
    [`${name}-width`]: plain(width),
    [`${name}-depth`]: plain(depth),
  }
}
const closeLine = line(4, 1)

const wallGaps = { close: 0.5, short: 1, usual: 2, long: 4 }
const atWall: Routes = Object.fromEntries(
  Object.entries(wallGaps).flatMap(([name, gapM]): [string, Route][] => {
    const wallZM = wallBehind(gapM)
    const behind = row(0, wallZM + 0.3)
    const found = of(pair(), { behind }, { wallZM })
    const open = of(pair(), { behind })
    const facts: [string, Route][] = [
      [`gap-wall-${name}`, plain(gapM)],
      [`rejection-wall-${name}`, level(() => found().rejection)],
      [`loss-wall-${name}`, level(() => found().loss)],
      [`cut-wall-${name}`, level(() => found().cut)],
      [`open-wall-${name}`, level(() => open().rejection)],
    ]
    if (name === 'close')
      facts.push(['wall-stack-rejection', level(() => merits(stackOf(2), band, { behind }, { wallZM }).rejection)])
    return facts
  }),
)

/** First turn of the level to the right of the middle, on a walk 5 m in front of two boxes 6 m apart, by centimetres. */
function laneM(hz: number, sign: 1 | -1): number {
  const boxes: Box[] = [
    { xM: -3, zM: 0 },
    { xM: 3, zM: 0 },
  ]
  const at = (xM: number) => {
    const { re, im } = pressureAt(boxes, { xM, yM: 1.6, zM: 5 } as Point, hz, {})
    return sign * (re * re + im * im)
  }
  for (let xM = 0.02; xM < 8; xM += 0.01) if (at(xM) > at(xM - 0.01) && at(xM) >= at(xM + 0.01)) return xM
  return Number.NaN
}
const lane = (hz: number, sign: 1 | -1) =>
  route(() => laneM(hz, sign), 0.05, 'the walk goes by centimetres here and by 5 cm with a parabola on the page')

/** Where one way from the pair is a whole wave longer; ears are above the line that joins the boxes. */
const inStepM = (hz: number) =>
  crossing((xM) => Math.hypot(xM + 3, 5, 1.6) - Math.hypot(xM - 3, 5, 1.6) - c / hz, 1, 100)

const hand: Routes = Object.fromEntries(
  [70, 85, 100, 120, 135, 170, 200].flatMap((cm): [string, Route][] => {
    // A pair of points d apart: the front is 2 |sin kd|, one box doubled at kd = π/2, 3 dB less at π/4 and 3π/4, silent at π.
    const hz = (kd: number) => (kd * c) / (2 * Math.PI * (cm / 100))
    const row = (name: string, kd: number): [string, Route] => [
      `${name}-by-${cm}`,
      route(() => hz(kd), 0.1, printedSpeed),
    ]
    return [
      [`delay-by-${cm}`, route(() => (10 * cm) / c, 0.002, printedSpeed)],
      row('quarter', Math.PI / 2),
      row('from', Math.PI / 4),
      row('to', (3 * Math.PI) / 4),
      row('silent', Math.PI),
    ]
  }),
)

/** 20 lg of what two equal waves leave of both when one is late: |1 − e^{−jωτ}|/2. */
const lateLeft = (hz: number) =>
  -20 * Math.log10(Math.hypot(1 - Math.cos(2 * Math.PI * hz * lateS), Math.sin(2 * Math.PI * hz * lateS)) / 2)
const inHall = (what: string) =>
  readOut(
    `${what}: figures of merit of the hall's field`,
    'hall-field-six-surfaces-pair-60',
    'hall-field-even-0-15-pair-35',
  )

export const steerRoutes: Routes = {
  ...named('pair', set, 'rejection', 'loss', 'cut'),
  ...usableRoutes('pair', usablePair),
  ...named('late', late, 'rejection', 'loss', 'cut'),
  ...named('quiet', quiet, 'rejection', 'loss', 'cut'),
  ...named('polarity', polarity, 'rejection', 'loss', 'cut'),
  ...named('wall', walled, 'rejection', 'loss', 'cut'),
  ...named('points', of(pair(), {}, { point: true }), 'rejection'),
  ...named('turned', of(pair({ delayS: 0, sign: 1, turned: true })), 'loss', 'cut'),
  ...Object.fromEntries(
    [31.5, 40, 50, 63, 80, 100, 125].flatMap((hz) => {
      const found = once(() => merits(pair(), bandLines(hz)))
      return (['rejection', 'loss', 'cut'] as const).map((key) => [`${key}-${hz}`, level(() => found()[key])])
    }),
  ),
  'stack-floor': plain(size.widthM * size.depthM),
  spacing: plain(spacingM),
  'double-delay': route(() => (2000 * spacingM) / c, 0.002, printedSpeed),
  'ms-per-metre': route(() => 1000 / c, 0.001, printedSpeed),
  'cm-per-ms': route(() => c / 1000, 0.0001, printedSpeed),
  'speed-of-sound': route(() => c, 0.05, printedSpeed),
  'front-distance': plain(5),
  'table-distance': plain(4),
  'early-cut': level(() => merits(pair({ delayS: delayS - lateS }), band).cut),
  // No box can play louder than in the stack, so the other one goes down instead.
  'loud-cut': level(() => merits([{ xM: 0, zM: 0, dB: -quietDb }, ...pair().slice(1)], band).cut),
  'polarity-rise': level(() => set().cut - polarity().cut),
  'power-for-loss': route(() => 10 ** (set().loss / 10), 0.05, exact),
  'power-at-40': route(() => 10 ** (at40().loss / 10), 0.1, exact),
  'stack-gain': level(stackGainDb),
  'second-box-gain': level(() => 20 * Math.log10(2) - set().loss),
  'late-limit-63': level(() => lateLeft(63)),
  'late-limit-100': level(() => lateLeft(100)),
  'quiet-limit': level(() => -20 * Math.log10((1 - 10 ** (-quietDb / 20)) / 2)),
  'wall-gap': plain(wallGapM),
  'far-distance': plain(8),
  'far-cut': level(() => far().cut),
  'move-distance': plain(8),
  'move-saves': level(() => set().stackBehindDb - far().stackBehindDb),
  'as-far-as': route(() => Math.round(4 * 10 ** (set().cut / 20)), 0.5, 'to the metre'),
  ...compared('by-pair', bookPair),
  'by-pair-floor': plain(outline(bookPair).width * outline(bookPair).depth),
  ...compared('by-trio', bookTrio),
  ...compared('by-line-2', line(2, bookM)),
  ...compared('by-line-4', line(4, bookM)),
  ...named('trio-turned', of(trio({})), 'cut', 'loss'),
  'close-line-spacing': plain(1),
  'close-line-rejection': level(() => merits(closeLine, band, { behind: comparedRow(closeLine) }).rejection),
  'compared-behind': plain(2),
  ...hand,
  ...atWall,
  'table-off-wall': plain(0.3),
  ...named('near', of(pair(), { behind: row(0, -2.5) }), 'cut'),
  ...Object.fromEntries(
    ['loss', 'cut', 'move-saves', 'best', 'worst', 'net', 'polarity-rise'].map((name) => [
      `hall-${name}`,
      inHall(name),
    ]),
  ),
  'hall-move-distance': plain(6),
  ...named(
    'left-right',
    of([
      { xM: -3, zM: 0 },
      { xM: 3, zM: 0 },
    ]),
    'rejection',
  ),
  ...named(
    'lane',
    of(
      [
        { xM: -3, zM: 0 },
        { xM: 3, zM: 0 },
      ],
      { front: row(2.9, 5) },
    ),
    'loss',
  ),
  'lane-spacing': plain(6),
  'lane-distance': plain(5),
  'lane-weak-63': lane(63, -1),
  'lane-peak-63': lane(63, 1),
  'lane-in-step-63': route(() => inStepM(63), 0.02, `${printedSpeed}, and the place moves by 0.19 m with each 1 m/s`),
  'lane-weak-80': lane(80, -1),
}
