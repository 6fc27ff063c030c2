import { describe, expect, test } from 'vitest'
import { type ComparedGeometry, reflectionPaths } from '../../../../src/acoustics/measuring/reflection-paths.ts'
import { verdict } from '../../../../src/acoustics/measuring/verdict.ts'
import { air, caseOf, cases, isTrue, measured, ranges, type Truth, trueParts } from './verdict-cases.ts'

describe('the verdict on two microphones', () => {
  test('never names a wrong cause in 210 cases of known truth', () => {
    const wrong = cases.flatMap(({ kind, seed }) => {
      const { truth, told } = caseOf(kind, seed)
      return isTrue(told, truth)
        ? []
        : [{ kind, seed, told: told.bassCause, parts: trueParts(truth), reflection: told.reflection }]
    })
    expect(wrong).toEqual([])
  })

  test.each([
    ['same', 'hardly-any', 0.5],
    // Where the floor does as much as the distance, that is said, or nothing. Set after comparing: about 0.8 of many more cases.
    ['distance', 'distance', 0.7],
    ['more', 'really-more', 0.9],
    ['less', 'really-less', 0.9],
  ] as const)('%s is mostly told as %s', (kind, cause, share) => {
    const told = cases.filter((each) => each.kind === kind).map(({ seed }) => caseOf(kind, seed).told)
    const right = told.filter(({ bassCause }) => bassCause === cause)
    expect(
      right.length / told.length,
      told.map(({ bassCause, doubt }) => doubt ?? bassCause).join(', '),
    ).toBeGreaterThanOrEqual(share)
  })

  test('a wall that makes the difference is named in most cases where it makes 4 dB or more', () => {
    const walls = Array.from({ length: 120 }, (_, i) => caseOf('wall', i + 500)).filter(({ truth }) => {
      const { allDb, distanceDb } = trueParts(truth)
      return Math.abs(allDb - distanceDb) >= 4
    })
    expect(walls.length).toBeGreaterThan(5)
    expect(walls.every(({ truth, told }) => isTrue(told, truth))).toBe(true)
    const named = walls.filter(({ told }) => told.bassCause === 'reflection')
    expect(
      named.length / walls.length,
      walls.map(({ told }) => told.doubt ?? told.bassCause).join(', '),
    ).toBeGreaterThanOrEqual(0.5)
  })

  test('the treble is missing behind, however far apart the places are', () => {
    for (const { kind, seed } of cases) {
      const { truth, told } = caseOf(kind, seed)
      if (truth.trebleDb > 14) expect(told.trebleBehind, `${kind} ${seed}`).toBe('missing')
    }
  })

  test('without distances or walls entered, a difference has no cause', () => {
    const { truth } = caseOf('more', 4)
    const spectra = measured(truth, 5)
    const plain = { ...spectra, ranges, air, wallsAreEntered: false }
    expect(verdict({ ...plain, geometry: null })).toMatchObject({ bassCause: 'cannot-tell', doubt: 'no-distances' })
    expect(verdict({ ...plain, geometry: truth.geometry })).toMatchObject({
      bassCause: 'cannot-tell',
      doubt: 'no-geometry',
    })
    expect(verdict({ ...plain, geometry: truth.geometry, detail: null, wallsAreEntered: true })).toMatchObject({
      doubt: 'no-detail',
    })
  })

  test('bands that were not measured leave nothing to tell', () => {
    const { truth } = caseOf('same', 1)
    const { bands, detail } = measured(truth, 1)
    const few = bands.map((band) => (band.nominalHz < 100 ? { ...band, levels: null, difference: null } : band))
    expect(verdict({ bands: few, detail, geometry: truth.geometry, wallsAreEntered: true, ranges, air })).toMatchObject(
      {
        bass: null,
        bassCause: 'cannot-tell',
        doubt: 'not-measured',
      },
    )
  })

  test('a dip at 118 Hz fits the wall 0.7 m behind the microphone', () => {
    const geometry: ComparedGeometry = { front: { distanceM: 4 }, behind: { distanceM: 4, wallBeyondM: 0.727 } }
    const ways = reflectionPaths(geometry).map((path) => ({ ...path, factor: 0.8 }))
    const truth: Truth = { geometry, bassDb: 0, trebleDb: 18, ways, seconds: 60 }
    const told = verdict({ ...measured(truth, 3), geometry, wallsAreEntered: true, ranges, air })
    const dip = told.dips.find(({ frequencyHz }) => frequencyHz < 200)
    expect(told.dips.map(({ place, fits }) => [place, fits?.cause])).toEqual(
      told.dips.map(() => ['behind', 'wall-beyond']),
    )
    expect(told.dips.length).toBeGreaterThanOrEqual(3)
    expect(dip).toMatchObject({ place: 'behind', fits: { cause: 'wall-beyond', order: 0 } })
    expect(Math.abs((dip?.frequencyHz ?? 0) - 118)).toBeLessThan(3)
    expect(Math.abs((dip?.extraM ?? 0) - 1.45)).toBeLessThan(0.04)
    const unentered = verdict({
      ...measured(truth, 3),
      geometry: { front: { distanceM: 4 }, behind: { distanceM: 4 } },
      wallsAreEntered: true,
      ranges,
      air,
    })
    expect(unentered.dips.every(({ fits }) => fits === null)).toBe(true)
    expect(unentered.bassCause === 'cannot-tell' || unentered.bassCause === 'hardly-any').toBe(true)
  })

  test('no dip is found in smooth spectra', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const geometry: ComparedGeometry = { front: { distanceM: 4 }, behind: { distanceM: 4 } }
      const truth: Truth = { geometry, bassDb: 0, trebleDb: 20, ways: [], seconds: 30 }
      expect(verdict({ ...measured(truth, seed), geometry, wallsAreEntered: true, ranges, air }).dips).toEqual([])
    }
  })
})
