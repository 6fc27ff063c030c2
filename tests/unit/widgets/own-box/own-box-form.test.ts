import { globSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { checkRig } from '../../../../src/acoustics/index.ts'
import {
  type BoxDesign,
  boxOfDesign,
  canonicalDesign,
  designOfCabinet,
  plainDriver,
  rigOfDesign,
} from '../../../../src/widgets/own-box/box-design.ts'
import { checkDesign, placeProblem } from '../../../../src/widgets/own-box/check-design.ts'
import { sizeMeasure } from '../../../../src/words/measures.ts'
import { sizeNumber, sizeText, sizeTextDown } from '../../../../src/words/sizes.ts'

const root = join(import.meta.dirname, '../../../..')
const cabinets = globSync('content/gear/*.json', { cwd: root }).flatMap(
  (file) => JSON.parse(readFileSync(join(root, file), 'utf8')).cabinets,
)
const named = (name: string) => cabinets.find((cabinet) => cabinet.name === name)
const top = designOfCabinet(named('top')) as BoxDesign
const changed = (change: (design: BoxDesign) => void): BoxDesign => {
  const design = structuredClone(top)
  change(design)
  return design
}
const driver = (design: BoxDesign, index: number) => design.drivers[index] as BoxDesign['drivers'][number]

describe('the form’s box', () => {
  test('keeps a demo cabinet’s drivers, sizes and crossover, and a saved rig gives it back', () => {
    const { widthM, heightM, depthM, ways } = boxOfDesign(top)
    expect({ widthM, heightM, depthM }).toEqual({ widthM: 0.32, heightM: 0.56, depthM: 0.3 })
    expect(ways.map(({ drivers }) => drivers)).toEqual(
      named('top').ways.map((way: { drivers: unknown }) => way.drivers),
    )
    expect(ways[0]?.lowPass).toEqual(named('top').ways[0].lowPass)
    expect(ways[1]?.highPass).toEqual(named('top').ways[1].highPass)
    const [cabinet] = rigOfDesign('mine', top).cabinets
    expect(designOfCabinet(cabinet as never)).toEqual(top)
  })

  test('level, delay and polarity become gain and delay of the drivers, and a saved rig gives them back', () => {
    const tuned = changed((design) => {
      Object.assign(driver(design, 0), { levelDb: -6, delayMs: 1.25 })
      Object.assign(driver(design, 1), { inverted: true })
    })
    const [low, high] = boxOfDesign(tuned).ways
    // −6 dB is 0.501 of the movement
    expect(low?.drivers[0]?.gain).toBeCloseTo(0.501, 3)
    expect(low?.drivers[0]?.delayS).toBe(0.00125)
    expect(high?.drivers[0]?.gain).toBe(-1)
    expect(high?.drivers[0]).not.toHaveProperty('delayS')
    const [cabinet] = rigOfDesign('mine', tuned).cabinets
    expect(designOfCabinet(cabinet as never)).toEqual(tuned)
    expect(canonicalDesign(tuned)).toEqual(tuned)
  })

  test('a driver that is silent in a rig from elsewhere is more than the form can say', () => {
    const silent = structuredClone(named('top'))
    silent.ways[0].drivers.push({ ...silent.ways[0].drivers[0], yM: 0.1, gain: 0 })
    expect(designOfCabinet(silent)).toBeUndefined()
  })

  test('more drivers than the form has rows, and ways that do not meet, are not forced into it', () => {
    expect(designOfCabinet(named('column'))).toBeUndefined()
    const apart = structuredClone(named('top'))
    apart.ways[1].highPass.frequencyHz = 5000
    expect(designOfCabinet(apart)).toBeUndefined()
  })

  test('every demo cabinet that fits is sound in metres and in inches', () => {
    const designs = cabinets.flatMap((cabinet) => designOfCabinet(cabinet) ?? [])
    expect(designs.length).toBeGreaterThanOrEqual(4)
    for (const design of designs) {
      expect(checkDesign(design, 'm')).toEqual({})
      expect(checkDesign(design, 'ft')).toEqual({})
      expect(() => checkRig(rigOfDesign('x', design))).not.toThrow()
    }
  })

  test('what does not matter does not tell boxes apart', () => {
    const other = changed((design) => {
      driver(design, 0).mouthWidthM = 1
    })
    expect(canonicalDesign(other)).toEqual(canonicalDesign(top))
    const one = changed((design) => {
      design.twoWay = false
      design.crossoverHz = 77
    })
    expect(canonicalDesign(one).crossoverHz).toBe(1800)
  })

  test('as a rig it stands with its middle at the height of ears, or on the floor, and comes back so', () => {
    expect(rigOfDesign('on a pole', top).cabinets[0]?.frontCentre.yM).toBe(1.6)
    const low = changed((design) => {
      design.onFloor = true
    })
    const [cabinet] = rigOfDesign('low', low).cabinets
    expect(cabinet?.frontCentre.yM).toBe(top.heightM / 2)
    expect(designOfCabinet(cabinet as never)).toEqual(low)
    expect(canonicalDesign(low)).toEqual(low)
    expect(() => checkRig(rigOfDesign('low', low))).not.toThrow()
  })
})

describe('errors stand beside their field, in the reader’s words, with what is allowed', () => {
  const errorsOf = (change: (design: BoxDesign) => void, units: 'm' | 'ft' = 'm') => checkDesign(changed(change), units)

  test.each([
    ['levelDb', -41, 'Too small. Allowed: −40 dB to 20 dB.'],
    ['levelDb', 21, 'Too large. Allowed: −40 dB to 20 dB.'],
    ['levelDb', Number.NaN, 'Not a level that this page can read. Allowed: −40 dB to 20 dB.'],
    ['delayMs', -1, 'Below zero. Allowed: 0 ms to 50 ms.'],
    ['delayMs', 51, 'Too large. Allowed: 0 ms to 50 ms.'],
    ['levelDb', 0, undefined],
    ['delayMs', 0, undefined],
    ['levelDb', -40, undefined],
    ['delayMs', 50, undefined],
  ] as const)('%s of %d', (field, value, words) => {
    const errors = errorsOf((design) => {
      driver(design, 0)[field] = value
    })
    expect(errors).toEqual(words ? { [`drivers.0.${field}`]: words } : {})
  })

  test('drivers that cancel straight in front', () => {
    const two = (levelDb: number) => (design: BoxDesign) => {
      const cone = { ...plainDriver, plays: 'low' as const }
      design.drivers = [
        { ...cone, yM: -0.2 },
        { ...cone, yM: 0.2, inverted: true, levelDb },
        { ...plainDriver, yM: 0, plays: 'high' },
      ]
    }
    expect(errorsOf(two(0))['drivers.1.inverted']).toContain('below the crossover cancel each other straight in front')
    // 3 dB apart leaves 0.17 of the sum, and a front.
    expect(errorsOf(two(-3))).toEqual({})
  })

  test.each([
    ['zero', 0, 'Zero. Allowed: 0.05 m to 2 m.'],
    ['negative', -0.3, 'Below zero. Allowed: 0.05 m to 2 m.'],
    ['tiny', 0.001, 'Too small. Allowed: 0.05 m to 2 m.'],
    ['huge', 1e12, 'Too large. Allowed: 0.05 m to 2 m.'],
    ['not a number', Number.NaN, 'Not a length that this page can read. Allowed: 0.05 m to 2 m.'],
    ['infinite', Number.POSITIVE_INFINITY, 'Not a length that this page can read. Allowed: 0.05 m to 2 m.'],
  ])('outside size %s', (_, valueM, words) => {
    for (const field of ['widthM', 'heightM', 'depthM'] as const) {
      expect(
        errorsOf((design) => {
          design[field] = valueM
        }),
      ).toEqual({ [field]: words })
    }
  })

  test('in inches when the reader measures in feet', () => {
    expect(
      errorsOf((design) => {
        design.widthM = 5
      }, 'ft'),
    ).toEqual({ widthM: 'Too large. Allowed: 2 in to 78.7 in.' })
  })

  test('several at once, each at its place', () => {
    const errors = errorsOf((design) => {
      design.depthM = Number.NaN
      driver(design, 0).diameterM = 0
      driver(design, 1).horizontalDeg = 400
    })
    expect(Object.keys(errors).sort()).toEqual(['depthM', 'drivers.0.diameterM', 'drivers.1.horizontalDeg'])
    expect(errors['drivers.1.horizontalDeg']).toBe('Too large. Allowed: 10° to 180°.')
  })

  test('a place that was typed past an edge says which edge and how far it may go, and that place is then allowed', () => {
    const put = (xM: number, units: 'm' | 'ft' = 'm') => placeProblem(top, 0, { xM, yM: driver(top, 0).yM }, units)
    expect(put(-0.06)).toBe('Past the left edge. Allowed: −0.055 m to 0.055 m.')
    expect(put(-0.055)).toBeUndefined()
    expect(put(0.2, 'ft')).toBe('Past the right edge. Allowed: −2.1 in to 2.1 in.')
    expect(put(sizeMeasure('ft').read('2.1'), 'ft')).toBeUndefined()
  })

  test('drivers for which there is no room: one message, with the face that they would need', () => {
    const errors = errorsOf((design) => {
      driver(design, 1).mouthWidthM = 0.5
    })
    expect(errors).toEqual({
      drivers:
        'These drivers do not fit on the front. It would have to be 0.5 m wide and 0.56 m high; or take smaller drivers, or fewer.',
    })
    const large = errorsOf((design) => {
      driver(design, 0).diameterM = 0.33
      design.widthM = 0.33
    })
    expect(large).toEqual({})
  })

  test('a typed place on another driver is refused, cone on cone, mouth on mouth and cone on mouth; touching is allowed', () => {
    const mouthAt = (yM: number) => placeProblem(top, 1, { xM: 0, yM }, 'm')
    expect(mouthAt(0.03)).toContain('Driver 2 overlaps driver 1.')
    expect(mouthAt(0.055)).toBeUndefined()
    const two = (kind: 'cone' | 'horn', yM: number) => {
      const part = { ...plainDriver, kind, diameterM: 0.2, mouthWidthM: 0.2, mouthHeightM: 0.2 }
      const drivers = [
        { ...part, yM: -0.1 },
        { ...part, yM: 0.1 },
      ]
      return placeProblem({ ...top, drivers }, 1, { xM: 0, yM }, 'm')
    }
    for (const kind of ['cone', 'horn'] as const) {
      expect(two(kind, 0.09)).toContain('overlaps')
      expect(two(kind, 0.1)).toBeUndefined()
    }
  })

  test('too many drivers, none, and a crossover with one part silent', () => {
    const many = errorsOf((design) => {
      design.drivers = Array.from({ length: 5 }, () => ({ ...plainDriver }))
      design.twoWay = false
    })
    expect(many['drivers']).toBe('There are 5 drivers. Allowed: 1 to 4.')
    expect(
      errorsOf((design) => {
        design.drivers = []
      })['drivers'],
    ).toContain('0 drivers')
    expect(
      errorsOf((design) => {
        driver(design, 1).plays = 'low'
      })['crossoverHz'],
    ).toContain('No driver plays above')
    expect(
      errorsOf((design) => {
        design.crossoverHz = Number.NaN
      })['crossoverHz'],
    ).toBe('Not a frequency that this page can read. Allowed: 60 Hz to 16 kHz.')
  })
})

describe('sizes as a reader writes them', () => {
  test.each([
    ['0.32', 'm', 0.32],
    ['0,32', 'm', 0.32],
    [' .5 m ', 'm', 0.5],
    ['32cm', 'm', 0.32],
    ['320 mm', 'ft', 0.32],
    ['12.5 in', 'm', 0.3175],
    ['12.5', 'ft', 0.3175],
    ['12"', 'm', 0.3048],
    ['2 ft', 'm', 0.6096],
    ['1\' 10"', 'm', 0.5588],
    ['1 ft 10 in', 'ft', 0.5588],
    ['1′ 10″', 'ft', 0.5588],
    ['1 foot 10 inches', 'm', 0.5588],
    ['-5 cm', 'm', -0.05],
    ['−0.135', 'm', -0.135],
    ['1.', 'm', 1],
  ] as const)('%s in a field of %s', (text, units, sizeM) => {
    expect(sizeMeasure(units).read(text)).toBeCloseTo(sizeM, 9)
  })

  test.each(['', 'abc', '1e3', 'NaN', 'Infinity', '1 2', '0x10', '--1', '5 km', '<b>', '9'.repeat(400)])(
    '%.20s is no size',
    (text) => {
      expect(sizeMeasure('m').read(text)).toBeNaN()
    },
  )

  test('are shown so that they read back, and limits are never rounded up', () => {
    expect(sizeText(0.3, 'm')).toBe('0.3 m')
    expect(sizeText(0.3, 'ft')).toBe('11.8 in')
    expect(sizeNumber(-0.135, 'm')).toBe('−0.135')
    expect(sizeNumber(Number.NaN, 'm')).toBe('')
    expect(sizeTextDown(0.0556, 'm')).toBe('0.055 m')
    expect(sizeTextDown(0.0556, 'ft')).toBe('2.1 in')
    expect(sizeTextDown(0.32, 'm')).toBe('0.32 m')
  })
})
