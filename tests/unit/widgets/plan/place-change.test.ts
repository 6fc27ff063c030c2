import { describe, expect, test } from 'vitest'
import { placeChange, tellingPlace } from '../../../../src/widgets/plan/place-change.ts'

const at = (bassDb: number, trebleDb: number) => ({ bassDb, trebleDb })

describe('what is said of a place', () => {
  test.each([
    ['really more bass', at(3, 0), 'more'],
    ['more bass, whatever more treble there is', at(8, 3), 'more'],
    ['more bass and less treble', at(4, -5), 'both'],
    ['the bass is kept', at(0, -12), 'keeps'],
    ['less bass is not kept', at(-7, -39), 'loses'],
    ['a little of each', at(2, -2), 'duller'],
    ['less bass than treble', at(-8, -5), 'thin'],
    ['less bass and as much treble', at(-4, 0), 'thin'],
    ['more treble', at(0, 4), 'brighter'],
    ['as at the main place', at(2, 0), 'as'],
    ['nearer', at(6, 5), 'louder'],
    ['farther away', at(-6, -7), 'quieter'],
  ] as const)('%s', (_, reMain, change) => {
    expect(placeChange(reMain)).toBe(change)
  })

  test('goes by the whole decibels that the table shows', () => {
    expect(placeChange(at(2.6, 0.4))).toBe('more')
    expect(placeChange(at(2.4, -0.4))).toBe('as')
  })

  test('bass is called kept only within what is not heard, more only where it is more, and treble missing only where it is less', () => {
    for (let bassDb = -12; bassDb <= 12; bassDb += 0.7)
      for (let trebleDb = -30; trebleDb <= 12; trebleDb += 0.7) {
        const change = placeChange(at(bassDb, trebleDb))
        const told = `${bassDb.toFixed(1)}, ${trebleDb.toFixed(1)}: ${change}`
        if (change === 'keeps') expect(Math.abs(bassDb), told).toBeLessThan(2.6)
        if (change === 'more' || change === 'both') expect(bassDb, told).toBeGreaterThan(2.4)
        if (change === 'keeps' || change === 'loses' || change === 'both') expect(trebleDb, told).toBeLessThan(-2.4)
        if (['as', 'louder', 'quieter'].includes(change)) expect(Math.abs(bassDb - trebleDb), told).toBeLessThan(3.5)
      }
  })
})

describe('which place is told of', () => {
  test('the dullest; else the one that lacks bass most; else the one whose level differs most', () => {
    const [dull, thin, near, far] = [at(0, -8), at(-9, -4), at(2, 1), at(-8, -7)].map((reMain) => ({ reMain }))
    if (!dull || !thin || !near || !far) throw new Error('four places')
    expect(tellingPlace([near, thin, dull])).toBe(dull)
    expect(tellingPlace([near, thin, far])).toBe(thin)
    expect(tellingPlace([near, far])).toBe(far)
    expect(tellingPlace([])).toBeUndefined()
  })
})
