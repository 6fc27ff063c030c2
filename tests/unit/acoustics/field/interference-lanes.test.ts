import { describe, expect, it } from 'vitest'
import { interferenceLanesM } from '../../../../src/acoustics/field/interference-lanes.ts'
import { makeAir } from '../../../../src/acoustics/index.ts'

/** 343.2 Hz has a wavelength of 1 m in this air. */
const air = { ...makeAir(), speedOfSoundMps: 343.2 }
const spec = { spacingM: 5, distanceM: 4, frequencyHz: 343.2 }
/** The left source's way less the right one's, m. */
const differenceM = (xM: number, { spacingM, distanceM }: typeof spec = spec): number =>
  Math.hypot(xM + spacingM / 2, distanceM) - Math.hypot(xM - spacingM / 2, distanceM)

describe('interference lanes', () => {
  it('lie where the ways differ by whole and by odd half wavelengths, all of them, rising', () => {
    const { strongM, weakM } = interferenceLanesM(spec, air)
    expect(strongM).toHaveLength(9)
    strongM.forEach((xM, i) => {
      expect(differenceM(xM)).toBeCloseTo(i - 4, 10)
    })
    expect(weakM).toHaveLength(10)
    weakM.forEach((xM, i) => {
      expect(differenceM(xM)).toBeCloseTo(i - 4.5, 10)
    })
  })
  it('are symmetric without a delay, the middle one strong', () => {
    const { strongM, weakM } = interferenceLanesM({ ...spec, frequencyHz: 200 }, air)
    expect(strongM).toContain(0)
    for (const lanes of [strongM, weakM]) {
      lanes.forEach((xM, i) => {
        expect(lanes[lanes.length - 1 - i]).toBeCloseTo(-xM, 10)
      })
    }
  })
  it('move toward the source that plays late', () => {
    const { strongM } = interferenceLanesM({ ...spec, frequencyHz: 60, delayS: 0.002 }, air)
    expect(strongM).toHaveLength(1)
    expect(strongM[0]).toBeGreaterThan(0)
    expect(differenceM(strongM[0] as number)).toBeCloseTo(343.2 * 0.002, 10)
  })
  it('change places when one source plays half a period late', () => {
    const still = interferenceLanesM(spec, air)
    const late = interferenceLanesM({ ...spec, delayS: 0.5 / 343.2 }, air)
    for (const [a, b] of [
      [late.strongM, still.weakM],
      [late.weakM, still.strongM],
    ] as const) {
      expect(a).toHaveLength(b.length)
      a.forEach((xM, i) => {
        expect(xM).toBeCloseTo(b[i] as number, 9)
      })
    }
  })
  it('are the middle one alone where the sources are closer than half a wavelength', () => {
    expect(interferenceLanesM({ ...spec, spacingM: 0.49 }, air)).toEqual({ strongM: [0], weakM: [] })
    expect(interferenceLanesM({ ...spec, spacingM: 0.51 }, air).weakM).toHaveLength(2)
  })
  it('may be none: a delay longer than the way between the sources, at a low frequency', () => {
    expect(interferenceLanesM({ spacingM: 1, distanceM: 5, frequencyHz: 30, delayS: 0.0045 }, air)).toEqual({
      strongM: [],
      weakM: [],
    })
  })
  it('refuses values out of range', () => {
    for (const bad of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => interferenceLanesM({ ...spec, spacingM: bad }, air)).toThrow(`spacingM is ${bad}`)
      expect(() => interferenceLanesM({ ...spec, distanceM: bad }, air)).toThrow(`distanceM is ${bad}`)
      expect(() => interferenceLanesM({ ...spec, frequencyHz: bad }, air)).toThrow(`frequencyHz is ${bad}`)
    }
    expect(() => interferenceLanesM({ ...spec, spacingM: 1001 }, air)).toThrow('spacingM is 1001')
    expect(() => interferenceLanesM({ ...spec, frequencyHz: 70000 }, air)).toThrow('frequencyHz is 70000')
    expect(() => interferenceLanesM({ ...spec, delayS: 1.1 }, air)).toThrow('delayS is 1.1')
    expect(() => interferenceLanesM({ ...spec, delayS: Number.NaN }, air)).toThrow('delayS is NaN')
  })
})
