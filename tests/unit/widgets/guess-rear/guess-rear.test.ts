import { expect, test } from 'vitest'
import { readLink, writeLink } from '../../../../src/state/share-link.ts'
import { guessVerdict } from '../../../../src/widgets/guess-rear/describe-guess.ts'
import { guessedHz, guessRearLink } from '../../../../src/widgets/guess-rear/guess-rear-link.ts'

test('a guess survives its link, and a broken one is dropped whole', () => {
  const state = { guessDb: [0, -1, -2, -3, 5, -20, -30, -48], shown: true }
  const params = writeLink(guessRearLink, state, new URLSearchParams())
  expect(readLink(guessRearLink, params)).toMatchObject({ state, dropped: [] })
  for (const text of ['1,2', '0,0,0,0,0,0,0,x', '0,0,0,0,0,0,0,-49', 'Infinity,0,0,0,0,0,0,0']) {
    const { state: kept, dropped } = readLink(guessRearLink, new URLSearchParams({ 'guess.guessDb': text }))
    expect(kept.guessDb).toEqual(guessedHz.map(() => 0))
    expect(dropped).toHaveLength(1)
  }
})

const bands = (bassDb: number, trebleDb: number) => [
  { frequencyHz: 63, guessDb: bassDb, computedDb: -2 },
  { frequencyHz: 125, guessDb: bassDb, computedDb: -2 },
  { frequencyHz: 1000, guessDb: 0, computedDb: -10 },
  { frequencyHz: 4000, guessDb: trebleDb, computedDb: -30 },
]

test('the verdict names bass and treble apart', () => {
  expect(guessVerdict(bands(6, -10))).toBe(
    'In the bass you drew the line 8 dB too high; in the treble, 20 dB too high. The bass behind is not louder than in front: it is nearly the same.',
  )
  expect(guessVerdict(bands(-2, -10))).toContain('The big difference is in the treble')
  expect(guessVerdict(bands(-3, -29))).toContain('You knew it.')
  expect(guessVerdict(bands(-2, -45))).toContain('15 dB too low')
})
