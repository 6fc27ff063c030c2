import { describe, expect, test } from 'vitest'
import { guessSlipsVerdict, type Slip } from '../../../../src/widgets/guess-slips/describe-guess-slips.ts'

const slips: Slip[] = [
  { name: 'unmatched-microphones', bassDb: 4, trebleDb: -1 },
  { name: 'unequal-distances', bassDb: 6, trebleDb: 6 },
  { name: 'meter-smoothing', bassDb: 0, trebleDb: 17 },
]

describe('what is said of a guess', () => {
  test('names the worst slip of either range, and how the answer turns round', () => {
    const words = guessSlipsVerdict({ bassDb: 6, trebleDb: 16 }, slips, -2)
    expect(words).toMatch(/^You have done this before\./)
    expect(words).toContain('The worst in the bass is off by 6 dB, by a microphone that stood farther away')
    expect(words).toContain('the worst in the treble by 17 dB, by a slow meter')
    expect(words).toContain('A fair test finds 2 dB less bass behind; who is off by 6 dB can read it as more.')
  })
  test('says how the guess lay: one too low, both, or too high', () => {
    expect(guessSlipsVerdict({ bassDb: 5, trebleDb: 3 }, slips, -2)).toMatch(/^One of them is worse/)
    expect(guessSlipsVerdict({ bassDb: 1, trebleDb: 1 }, slips, -2)).toMatch(/^Both are worse/)
    expect(guessSlipsVerdict({ bassDb: 12, trebleDb: 17 }, slips, -2)).toMatch(/^Not quite as bad/)
  })
  test('does not say that the answer turns round where it does not', () => {
    expect(guessSlipsVerdict({ bassDb: 6, trebleDb: 17 }, slips, -9)).not.toContain('read it as more')
  })
  test('counts the size of an error, whichever way it goes', () => {
    const words = guessSlipsVerdict({ bassDb: 8, trebleDb: 8 }, [{ name: 'talking', bassDb: -8, trebleDb: -8 }], -2)
    expect(words).toContain('off by 8 dB, by talk')
  })
  test('refuses no slips', () => {
    expect(() => guessSlipsVerdict({ bassDb: 1, trebleDb: 1 }, [], 0)).toThrow(/slips is empty/)
  })
})
