import { beforeAll, describe, expect, test } from 'vitest'
import { add } from '../../../../../src/acoustics/complex.ts'
import type { Rig } from '../../../../../src/acoustics/index.ts'
import { cabinetShadowHz } from '../../../../../src/engine/questions/box/box-and-wave.ts'
import { cardAnswer } from '../../../../../src/engine/questions/card/card-facts.ts'
import { cardFrontM, cardGapsM, cardWrapRangeHz } from '../../../../../src/engine/questions/card/card-terms.ts'
import { ownBoxBands } from '../../../../../src/engine/questions/own-box/own-box-terms.ts'
import { loadSolvedRig } from '../../../../../src/engine/scene/solved-gear.ts'
import { rigOf } from '../../../../demo-gear.ts'
import { letsGo } from '../../../facts/horn-routes.ts'
import { levelOf, lineOf } from '../../../facts/plain-rig.ts'
import { c } from '../../../facts/route.ts'
import { lowestDip, reflection } from '../../../facts/wall-routes.ts'

// Every number of the card by a second way: closed forms, plain sums, and boxes that are solved here and not read from tables.

const names = ['top-over-sub', 'column-on-base', 'compact-two-way']
const rigs = Object.fromEntries(
  names.map((name): [string, Rig] => {
    const { cabinets } = rigOf(name)
    return [name, { name, cabinets }]
  }),
)
beforeAll(async () => {
  await Promise.all(Object.values(rigs).map(loadSolvedRig))
})
const of = (name: string) => {
  const rig = rigs[name]
  if (!rig) throw new Error(`no rig ${name}`)
  return { rig, card: cardAnswer({ rig }) }
}

describe.each(names)('the card of %s', (name) => {
  test('where each box stops wrapping: the box solved anew, its lowest way alone; ka = 1 by hand', () => {
    const { rig, card } = of(name)
    expect(card.boxes).toHaveLength(rig.cabinets.length)
    for (const [index, box] of card.boxes.entries()) {
      const cabinet = rig.cabinets[index]
      if (!cabinet) throw new Error('no cabinet')
      const { widthM, heightM, depthM, ways, label } = cabinet
      expect(box.labels).toEqual([label])
      expect(box.isSolved).toBe(true)
      const again = cabinetShadowHz({ widthM, heightM, depthM, drivers: ways[0]?.drivers ?? [] })
      // Third octaves with a parabola between them, against sixths: within 1 % each. A crossover far above takes no part.
      expect(Math.abs(Number(box.wrapHz) / again - 1), `${label}: ${box.wrapHz}, solved ${again}`).toBeLessThan(0.02)
      expect(box.kaIsOneHz).toBeCloseTo(c / (Math.PI * widthM), 0)
    }
  })

  test('where the wall takes its first note: the rig and its image, searched by steps of a thousandth of an octave', () => {
    const { rig, card } = of(name)
    const ear = 1.6
    const depthM = Math.max(...rig.cabinets.map((cabinet) => cabinet.depthM))
    expect(card.depthM).toBeCloseTo(depthM, 9)
    expect(card.dips.map(({ gapM }) => gapM)).toEqual([...cardGapsM])
    for (const { gapM, dipHz } of card.dips) {
      const faceM = gapM + depthM
      const change = (hz: number) => {
        const at = lineOf(rig, hz)
        const straight = at({ xM: 0, yM: ear, zM: cardFrontM })
        const imaged = at({ xM: 0, yM: ear, zM: -2 * faceM - cardFrontM })
        const share = reflection('hard-walls', hz)
        return levelOf(add(straight, { re: share * imaged.re, im: share * imaged.im })) - levelOf(straight)
      }
      const { hz } = lowestDip(change)
      // The search here goes by 0.3 %, the card follows the response between knots of its own.
      expect(Math.abs((dipHz ?? 0) / hz - 1), `${gapM} m: ${dipHz}, by steps ${hz}`).toBeLessThan(0.008)
    }
  })

  test('the steered pair: a quarter wave at the middle of what the box plays of 40 to 100 Hz', () => {
    const { rig, card } = of(name)
    const lowest = rig.cabinets.reduce((low, next) => (next.frontCentre.yM < low.frontCentre.yM ? next : low))
    const { highPass, lowPass } = lowest.ways[0] ?? {}
    const fromHz = Math.max(40, highPass?.frequencyHz ?? 0)
    const toHz = Math.min(100, lowPass?.frequencyHz ?? 100)
    const { pair } = card
    if (!pair) throw new Error('no pair')
    expect(pair.label).toBe(lowest.label)
    expect(pair.band).toEqual({ fromHz, toHz })
    // On the grid of 5 cm.
    expect(Math.abs(pair.spacingM - c / (4 * Math.sqrt(fromHz * toHz)))).toBeLessThanOrEqual(0.0251)
    expect(pair.delayS).toBeCloseTo(pair.spacingM / c, 5)
    expect(pair.quarterHz).toBeCloseTo(c / (4 * pair.spacingM), 1)
  })
})

test('where a horn lets go: the plain sum over strips of its mouth, and the rule by hand', () => {
  const expected = {
    'top-over-sub': [
      { plane: 'across', mouthM: 0.26, coverageDeg: 90 },
      { plane: 'upright', mouthM: 0.17, coverageDeg: 60 },
    ],
    'compact-two-way': [
      { plane: 'across', mouthM: 0.2, coverageDeg: 90 },
      { plane: 'upright', mouthM: 0.12, coverageDeg: 60 },
    ],
    'column-on-base': [],
  }
  const waves = { 90: letsGo(90), 60: letsGo(60) }
  for (const [name, horns] of Object.entries(expected)) {
    const { card } = of(name)
    expect(card.horns).toHaveLength(horns.length)
    for (const [index, { plane, mouthM, coverageDeg }] of horns.entries()) {
      const horn = card.horns[index]
      expect(horn).toMatchObject({ plane, mouthM, coverageDeg })
      const again = (waves[coverageDeg as 90 | 60] * c) / mouthM
      expect(Math.abs((horn?.letsGoHz ?? 0) / again - 1)).toBeLessThan(0.003)
      expect(horn?.ruleHz).toBeCloseTo(25_400 / (coverageDeg * mouthM), 6)
    }
  }
})

test('what a row does: one wave long, and one wave from driver to driver, by the sizes in its file', () => {
  expect(of('column-on-base').card.columns).toHaveLength(1)
  const [column] = of('column-on-base').card.columns
  expect(column?.count).toBe(8)
  expect(column?.lengthM).toBeCloseTo(0.9, 9)
  expect(column?.oneWaveHz).toBeCloseTo(c / 0.9, 1)
  expect(column?.furtherHz).toBeCloseTo(c / 0.1125, 0)
  expect(of('top-over-sub').card.columns).toEqual([])
})

describe('a rig of the reader’s own', () => {
  const { rig } = of('top-over-sub')
  const [top, sub] = rig.cabinets
  if (!top || !sub) throw new Error('the demo rig has changed')
  const own = (...cabinets: Rig['cabinets']): Rig => ({ name: 'my own', cabinets })

  test('that is not solved yet says so of its boxes', () => {
    const { boxes } = cardAnswer({ rig: own({ ...sub, widthM: 0.5 }) })
    expect(boxes).toMatchObject([{ isSolved: false }])
    expect(Number.isFinite(boxes[0]?.wrapHz)).toBe(true)
  })

  test('with two boxes of a kind has one line for both, and a horn once', () => {
    const right = { ...top, name: 'right', label: 'right', frontCentre: { ...top.frontCentre, xM: 1 } }
    const { boxes, horns } = cardAnswer({ rig: own(top, right) })
    expect(boxes.map(({ labels }) => labels)).toEqual([['top', 'right']])
    expect(horns).toHaveLength(2)
  })

  test('with a horn that the site does not compute has the rule alone', () => {
    const way = {
      name: 'horn',
      drivers: [
        {
          kind: 'horn',
          mouthWidthM: 0.2,
          mouthHeightM: 0.1,
          horizontalCoverageRad: 2.4,
          verticalCoverageRad: 0.5,
          xM: 0,
          yM: 0,
        },
      ],
    } as const
    const { horns, pair } = cardAnswer({ rig: own({ ...top, ways: [{ ...way, drivers: [...way.drivers] }] }) })
    expect(horns.map(({ letsGoHz }) => letsGoHz)).toEqual([null, null])
    for (const { ruleHz } of horns) expect(ruleHz).toBeGreaterThan(0)
    // It plays all notes, as far as its crossovers say.
    expect(pair?.band).toEqual({ fromHz: 40, toHz: 100 })
  })

  test('without bass has no pair', () => {
    const high = {
      ...sub,
      ways: [
        {
          ...sub.ways[0],
          name: 'high',
          drivers: sub.ways[0]?.drivers ?? [],
          highPass: { alignment: 'linkwitz-riley', order: 4, frequencyHz: 90 } as const,
        },
      ],
    }
    expect(cardAnswer({ rig: own(high) }).pair).toBeNull()
  })

  test('whose drivers stand unevenly, side by side or two by two has no row', () => {
    const cones = (...places: [number, number][]) => ({
      ...sub,
      ways: [
        { name: 'cones', drivers: places.map(([xM, yM]) => ({ kind: 'piston' as const, radiusM: 0.03, xM, yM })) },
      ],
    })
    const rows = (...places: [number, number][]) => cardAnswer({ rig: own(cones(...places)) }).columns.length
    expect(rows([0, -0.2], [0, 0], [0, 0.2])).toBe(1)
    expect(rows([0, -0.2], [0, 0.2])).toBe(0)
    expect(rows([0, -0.2], [0, 0.1], [0, 0.2])).toBe(0)
    expect(rows([-0.1, 0], [0, 0], [0.1, 0])).toBe(0)
  })

  test('in a hot hall has other numbers: frequencies rise with the speed of sound', () => {
    const [usual, hot] = [cardAnswer({ rig }), cardAnswer({ rig, air: { temperatureC: 40, humidityPct: 50 } })]
    const rise = Math.sqrt((273.15 + 40) / (273.15 + 20))
    const ratio = (a: number | null | undefined, b: number | null | undefined) => (b ?? 0) / (a ?? 1)
    expect(ratio(usual.boxes[0]?.kaIsOneHz, hot.boxes[0]?.kaIsOneHz)).toBeCloseTo(rise, 2)
    expect(ratio(usual.horns[0]?.letsGoHz, hot.horns[0]?.letsGoHz)).toBeCloseTo(rise, 2)
    expect(ratio(usual.dips[3]?.dipHz, hot.dips[3]?.dipHz)).toBeCloseTo(rise, 2)
    // The wave is longer, so the fronts stand farther apart, on the grid of 5 cm.
    expect(hot.pair?.spacingM).toBeGreaterThan(usual.pair?.spacingM ?? 9)
    expect(ratio(usual.pair?.spacingM, hot.pair?.spacingM)).toBeCloseTo(rise, 1)
  })
})

test('the range in which a box may stop wrapping is that of the own box', () => {
  expect(cardWrapRangeHz).toEqual({ from: ownBoxBands[0]?.nominalHz, to: ownBoxBands.at(-1)?.nominalHz })
})
