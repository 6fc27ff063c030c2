import { describe, expect, test } from 'vitest'
import { binomialAtLeast, fewestRightToPass } from '../../../../src/acoustics/hearing/binomial.ts'

describe('the chance of so many right answers', () => {
  test.each([
    [8, 7, 9 / 256],
    [8, 5, 93 / 256],
    [8, 8, 1 / 256],
    [5, 5, 1 / 32],
    [20, 15, 21700 / 1048576],
    [1, 1, 1 / 2],
  ])('of %i trials at least %i, counted by hand: exactly %d', (trials, atLeast, expected) => {
    expect(binomialAtLeast({ trials, atLeast })).toBe(expected)
  })

  test('none or more is certain, for a chance of nothing and of everything too', () => {
    for (const chance of [0, 0.3, 0.5, 1])
      expect(binomialAtLeast({ trials: 20, atLeast: 0 }, chance)).toBeCloseTo(1, 14)
    expect(binomialAtLeast({ trials: 20, atLeast: 1 }, 0)).toBe(0)
    expect(binomialAtLeast({ trials: 20, atLeast: 20 }, 1)).toBe(1)
  })

  test('right answers at p and wrong answers at 1 − p are the same thing', () => {
    for (let right = 1; right <= 12; right++) {
      const fewerWrong = 1 - binomialAtLeast({ trials: 12, atLeast: 12 - right + 1 }, 0.7)
      expect(binomialAtLeast({ trials: 12, atLeast: right }, 0.3)).toBeCloseTo(fewerWrong, 12)
    }
  })

  test('what is out of range is named', () => {
    expect(() => binomialAtLeast({ trials: 0, atLeast: 0 })).toThrow(/^trials is 0; allowed is a whole number/)
    expect(() => binomialAtLeast({ trials: 101, atLeast: 0 })).toThrow(/^trials is 101/)
    expect(() => binomialAtLeast({ trials: 8, atLeast: 9 })).toThrow(/^atLeast is 9; .* 0 to 8/)
    expect(() => binomialAtLeast({ trials: 8, atLeast: 2.5 })).toThrow(/^atLeast is 2.5/)
    expect(() => binomialAtLeast({ trials: 8, atLeast: 2 }, Number.NaN)).toThrow(/^chance is NaN/)
    expect(() => binomialAtLeast({ trials: 8, atLeast: 2 }, 1.1)).toThrow(/^chance is 1.1/)
  })
})

describe('the fewest right answers that pass', () => {
  test('are one fewer than guessing reaches too often', () => {
    for (let trials = 5; trials <= 20; trials++) {
      const fewest = fewestRightToPass(trials, 0.05) ?? Number.NaN
      expect(binomialAtLeast({ trials, atLeast: fewest })).toBeLessThanOrEqual(0.05)
      expect(binomialAtLeast({ trials, atLeast: fewest - 1 })).toBeGreaterThan(0.05)
    }
  })
  test('four trials are too few at one in twenty', () => {
    expect(fewestRightToPass(4, 0.05)).toBeUndefined()
    expect(fewestRightToPass(5, 0.05)).toBe(5)
  })
  test('what is out of range is named', () => {
    expect(() => fewestRightToPass(8, 0)).toThrow(/^significance is 0/)
    expect(() => fewestRightToPass(8, 1)).toThrow(/^significance is 1/)
    expect(() => fewestRightToPass(0, 0.05)).toThrow(/^trials is 0/)
  })
})
