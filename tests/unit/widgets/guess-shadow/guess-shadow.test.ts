import { expect, test } from 'vitest'
import { readLink, writeLink } from '../../../../src/state/share-link.ts'
import { guessShadowVerdict } from '../../../../src/widgets/guess-shadow/describe-guess-shadow.ts'
import {
  guessOfStep,
  guessShadowLink,
  guessStep,
  lastGuessStep,
} from '../../../../src/widgets/guess-shadow/guess-shadow-link.ts'

const shadow = { computedHz: 284, widthRuleHz: 686.4, kaRuleHz: 218.5 }

test('the slider goes from one end of the range to the other, in two digits, and each step is its own guess', () => {
  expect(guessOfStep(0)).toBe(32)
  expect(guessOfStep(lastGuessStep)).toBe(4000)
  for (let step = 0; step <= lastGuessStep; step++) expect(guessStep(guessOfStep(step)), `step ${step}`).toBe(step)
  expect(guessOfStep(-3)).toBe(32)
  expect(guessOfStep(99)).toBe(4000)
})

test('the verdict says how far off, which way, and names the rule that a guess hits', () => {
  expect(guessShadowVerdict(690, shadow)).toContain('1⅓ octaves too high. That is the frequency whose wave is as long')
  expect(guessShadowVerdict(2000, shadow)).toContain('The shadow begins lower')
  expect(guessShadowVerdict(71, shadow)).toContain('2 octaves too low. There the wave still goes round.')
  expect(guessShadowVerdict(290, shadow)).toContain('You know your boxes.')
})

test('a guess survives its link', () => {
  const params = writeLink(guessShadowLink, { guessHz: 450, shown: true }, new URLSearchParams())
  expect(readLink(guessShadowLink, params)).toMatchObject({ state: { guessHz: 450, shown: true }, dropped: [] })
  expect(readLink(guessShadowLink, new URLSearchParams('guess-shadow.guessHz=9')).dropped).toHaveLength(1)
})
