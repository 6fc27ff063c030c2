import { expect, test } from 'vitest'
import { correctedWords, filesThere } from '../../../../src/widgets/compare/describe-microphone.ts'

const file = (name: string, fromHz: number, toHz: number) => ({
  name,
  frequenciesHz: [fromHz, toHz],
  levelsDb: [1, -1],
})

test('the report says which microphone was corrected, how far its file reaches, and which bands it leaves', () => {
  const microphones = { front: file('a.txt', 20, 20000), behind: file('b.txt', 63, 12500) }
  expect(correctedWords(microphones)).toEqual([
    'The microphone in front was corrected by its file a.txt, which reaches from 20 Hz to 20 kHz. That is every band.',
    'The microphone behind was corrected by its file b.txt, which reaches from 63 Hz to 12.5 kHz. What lies outside is not corrected: 25 Hz, 31.5 Hz, 40 Hz, 50 Hz and 16 kHz.',
  ])
  expect(correctedWords({ front: null, behind: null })).toEqual([])
  expect(filesThere({ ...microphones, front: null }).map(({ place }) => place)).toEqual(['behind'])
})
