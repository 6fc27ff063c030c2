import { globSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { levelContours } from '../../../src/charts/level-contours.ts'
import { planOn, squareExtent } from '../../../src/charts/plan-context.ts'
import { inScreenOrder } from '../../../src/charts/screen-order.ts'
import { levelOpacity, shadeWaves } from '../../../src/charts/wave-shade.ts'
import { frequencyText, frequencyTick } from '../../../src/words/frequencies.ts'

describe('the plan on the screen', () => {
  test('forward points right, the rig’s right-hand side points down', () => {
    const plan = planOn(squareExtent(4), 400)
    expect(plan.heightPx).toBe(400)
    expect([plan.left(4), plan.top(0)]).toEqual([400, 200])
    expect([plan.left(0), plan.top(4)]).toEqual([200, 400])
  })

  test('a touched place is the drawn place, with a rim as without', () => {
    for (const rimPx of [0, 5]) {
      const plan = planOn({ xMinM: -4.4, xMaxM: 7, zMinM: -2, zMaxM: 12 }, 371, rimPx)
      const { xM, zM } = plan.placeAt(plan.left(2.2), plan.top(-1.3))
      expect(xM).toBeCloseTo(-1.3, 12)
      expect(zM).toBeCloseTo(2.2, 12)
    }
  })

  test('one scale both ways: a rim takes from the width, and stands all round', () => {
    const plan = planOn({ xMinM: 0, xMaxM: 10, zMinM: 0, zMaxM: 20 }, 410, 5)
    expect([plan.pxPerM, plan.heightPx]).toEqual([20, 210])
    expect([plan.left(0), plan.top(0), plan.left(20), plan.top(10)]).toEqual([5, 5, 405, 205])
  })

  test('grid values turn: a row of z becomes a column of the screen', () => {
    // Three rows (z) of two columns (x): value = 10 z + x.
    const turned = inScreenOrder(Float32Array.from([0, 1, 10, 11, 20, 21]), 2, 3)
    expect([...turned]).toEqual([0, 10, 20, 1, 11, 21])
  })
})

describe('shading', () => {
  test('a crest is ink, a trough and the inside of a box are paper, and the wave moves with the phase', () => {
    const waves = { re: Float32Array.from([1, -1, 1]), im: new Float32Array(3), inside: Uint8Array.from([0, 0, 1]) }
    const cells = { columns: 1, rows: 3, ...waves }
    const pixels = new Uint8ClampedArray(12)
    shadeWaves(cells, 0, pixels)
    expect([pixels[3], pixels[7], pixels[11]]).toEqual([158, 0, 0])
    shadeWaves(cells, Math.PI, pixels)
    expect([pixels[3], pixels[7], pixels[11]]).toEqual([0, 158, 0])
  })

  test('waves on a grid are drawn in screen order, from the pixel on that they are told', () => {
    // Two rows (z) of three columns (x), the first column below another picture of two pixels.
    const re = Float32Array.from([1, 0.5, 0.25, 0, 0.5, 1])
    const cells = { columns: 3, rows: 2, re, im: new Float32Array(6), inside: new Uint8Array(6) }
    const pixels = new Uint8ClampedArray(32)
    shadeWaves(cells, 0, pixels, 2)
    const opacity = Array.from({ length: 8 }, (_, pixel) => pixels[4 * pixel + 3])
    expect(opacity).toEqual([0, 0, 158, 0, 79, 79, 40, 158])
  })

  test('the level ramp is even in dB and ends where its span does, at −24 and +6 dB unless told', () => {
    expect(levelOpacity(-60)).toBe(0)
    expect(levelOpacity(-24)).toBe(0)
    expect(levelOpacity(30)).toBe(levelOpacity(6))
    expect(levelOpacity(-3) - levelOpacity(-6)).toBeCloseTo(levelOpacity(-15) - levelOpacity(-18), 12)
    expect(levelOpacity(-5, { fromDb: -5, toDb: 5 })).toBe(0)
    expect(levelOpacity(0, { fromDb: -5, toDb: 5 })).toBeCloseTo(levelOpacity(6) / 2, 12)
  })
})

test('contours of a plane in dB are straight lines at their levels, without the edge of the map', () => {
  const across = 61
  const levels = Float32Array.from(
    { length: across * across },
    (_, index) => -24 + ((index % across) * 30) / (across - 1),
  )
  const contours = levelContours(levels, across, across, () => true)
  expect(contours.map(({ levelDb }) => levelDb)).toEqual([-20, -12, -6, -3])
  for (const { levelDb, lines, label } of contours) {
    // Cell centres lie at half units.
    const expected = ((levelDb + 24) / 30) * (across - 1) + 0.5
    expect(lines.length).toBeGreaterThan(0)
    for (const [left] of lines.flat()) expect(left).toBeCloseTo(expected, 3)
    expect(label?.[0]).toBeCloseTo(expected, 3)
  }
})

test('frequencies are written as people write them', () => {
  expect([31.5, 63, 1000, 1250, 16000].map(frequencyTick)).toEqual(['31.5', '63', '1 k', '1.25 k', '16 k'])
  expect([31.5, 2000, 12500].map(frequencyText)).toEqual(['31.5 Hz', '2 kHz', '12.5 kHz'])
})

test('where a pointer is on a drawing is worked out in the charts alone', () => {
  const root = join(import.meta.dirname, '../../..')
  const pointing = globSync('src/**/*.{ts,svelte,astro}', { cwd: root }).filter((file) =>
    /\bclient[XY]\b|getScreenCTM|getBoundingClientRect|setPointerCapture|onpointer/.test(
      readFileSync(join(root, file), 'utf8'),
    ),
  )
  // A slider is no drawing, but a finger on it is told from one that passes by in the same way.
  expect(pointing.sort()).toEqual([
    // Measures labels; it reads no pointer.
    'src/charts/clear-labels.ts',
    'src/charts/drag-place.ts',
    'src/charts/hold-touch.ts',
    'src/widgets/controls/slide-by-finger.ts',
  ])
})
