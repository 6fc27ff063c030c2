import { describe, expect, test } from 'vitest'
import { type ComparedBand, recordingBands } from '../../../../src/acoustics/index.ts'
import { certain } from '../../../../src/acoustics/measuring/estimate.ts'
import type { BoxOrHallAnswer, SweptFinding, SweptPlace } from '../../../../src/engine/questions/compare/sweep-terms.ts'
import {
  addsWords,
  boxOrHall,
  boxOrHallRows,
  boxOrHallWords,
  decayRows,
  findingWords,
  limitWords,
} from '../../../../src/widgets/compare/describe-box-or-hall.ts'

const estimate = (levelDb: number, errorDb = 0.1) => ({ levelDb, errorDb, freedom: certain })
const range = (levelDb: number, errorDb = 0.1) => ({
  fromHz: 2000,
  toHz: 16000,
  difference: estimate(levelDb, errorDb),
  measured: 10,
  of: 10,
})
const bands = (levelDb: number, fromHz = 0): ComparedBand[] =>
  recordingBands.map(({ nominalHz }) => ({
    nominalHz,
    standing: { front: null, behind: null },
    levels: nominalHz < fromHz ? null : { front: estimate(0), behind: estimate(-levelDb) },
    difference: nominalHz < fromHz ? null : estimate(levelDb),
  }))
/** Front less behind in the treble. */
const answerOf = (box: number, whole: number, errorDb = 0.1): BoxOrHallAnswer => ({
  whole: bands(whole),
  box: bands(box, 1250),
  validFromHz: 1122,
  treble: {
    box: range(box, errorDb),
    whole: range(whole, errorDb),
    addedDb: { front: 0.3, behind: 0.3 + box - whole },
  },
  bass: null,
  wholeBass: range(1),
})
const place = (findings: SweptFinding[] = [], name = 'a.wav', gapS: number | null = 0.0046) => ({
  name,
  sampleRateHz: 48000,
  durationS: 23,
  whole: [],
  box: [],
  validFromHz: 1122,
  gapS,
  decays: [
    { nominalHz: 63, decayS: null },
    { nominalHz: 125, decayS: 1.234 },
    { nominalHz: 250, decayS: 0.876 },
  ],
  findings,
})
const places: SweptPlace[] = [place(), place([], 'a.wav', 0.0025)]

describe('the sentence of the sweeps', () => {
  test.each([
    ['box', 28, 27, 'The box. By itself it sends 28 dB less treble behind than in front, and the hall changes little'],
    [
      'both',
      28,
      12,
      'Both. By itself the box sends 28 dB less treble behind than in front; the hall fills in, and only 12 dB',
    ],
    ['both', 6, 0.2, 'and as much arrives as in front.'],
    ['both', 6, -2, 'and 2 dB more arrives.'],
    [
      'hall',
      1,
      -8,
      'The hall. By itself the box sends nearly as much treble behind as in front, and 8 dB more arrives.',
    ],
    ['neither', 1, 2, 'Neither.'],
    [
      'unusual',
      -9,
      0,
      'By itself the box sends 9 dB more treble behind than in front, and with the hall as much arrives.',
    ],
    ['unusual', 10, 20, 'By itself the box sends 10 dB less treble behind than in front, and with the hall 20 dB less'],
  ] as const)('says %s where the box alone makes %i dB less and all of it %d dB', (kind, box, whole, words) => {
    const answer = answerOf(box, whole)
    expect(boxOrHall(answer, places)).toBe(kind)
    expect(boxOrHallWords(answer, places)).toContain(words)
  })

  test('says that it cannot tell, and why', () => {
    expect(boxOrHallWords(answerOf(28, 12, 3), places)).toContain('too little above the noise')
    const none = { ...answerOf(28, 12), treble: null }
    expect(boxOrHallWords(none, places)).toContain('too little of the treble')
    const near = [place([{ kind: 'too-close', gapS: 0.0012 }], 'a.wav', 0.0012), place()]
    expect(boxOrHallWords(none, near)).toContain('comes 1.2 ms after the sound itself, too soon')
    expect(addsWords(none)).toBe('')
  })

  test('is followed by what the hall adds, and by how far down the box is told', () => {
    expect(addsWords(answerOf(28, 12))).toBe('Of the treble the hall adds 16 dB behind and less than 1 dB in front.')
    const [limit, bass] = limitWords(answerOf(28, 12), places)
    expect(limit).toContain('Below 1.1 kHz box and hall cannot be told apart here')
    expect(limit).toContain('2.5 ms after')
    expect(bass).toBe('In the bass 1 dB less arrives behind, box and hall together.')
    expect(limitWords({ ...answerOf(28, 28), validFromHz: 0 }, [place([], 'a', null)])[0]).toContain('No reflection')
  })
})

describe('what was found in the recordings', () => {
  test('is told in words with its time, the clock of one recorder once', () => {
    const drift: SweptFinding = { kind: 'clock-drift', driftPpm: -53.2 }
    expect(
      findingWords({
        front: place([drift, { kind: 'clipped', fromS: 3.25, toS: 3.3, sampleCount: 9 }]),
        behind: place([drift, { kind: 'unsteady-noise', sweep: 2, fromS: 14, toS: 15.5, excessDb: 12 }]),
      }),
    ).toEqual([
      'The recorder’s clock runs slower than the player’s by 53 millionths. It is allowed for.',
      'In front: Clipped at 3.3 s (9 samples). Turn the input down and record again.',
      'Behind: From 14 s to 16 s something else was heard, up to 12 dB louder. Only the other sweep counts.',
    ])
  })

  test.each([
    [{ kind: 'one-sweep' }, 'Only one sweep'],
    [{ kind: 'cut-short', missingS: 1.2 }, 'ends 1.2 s before the last sweep has died away'],
    [{ kind: 'gap', sweep: 1, fromS: 4, toS: 4.02 }, 'At 4 s the recording lacks 20 ms: the device did not keep up.'],
    [{ kind: 'clock-drift', driftPpm: 60 }, 'runs faster than the player’s by 60 millionths'],
    [{ kind: 'level-changed', changeDb: 1.26 }, 'came 1.3 dB louder'],
    [{ kind: 'level-changed', changeDb: -2 }, 'came 2 dB quieter'],
    [{ kind: 'merged', gapS: 0.0006, levelDb: -4 }, 'Two arrivals 0.6 ms apart are taken for one'],
    [{ kind: 'too-close', gapS: 0.0012 }, 'comes 1.2 ms after'],
    [{ kind: 'coarse', bits: 8 }, 'has 8 bits a sample'],
    [{ kind: 'file-cut-short' }, 'ends before the sound that it announces'],
  ] as [SweptFinding, string][])('%o reads “%s”', (finding, words) => {
    const [told] = findingWords({ front: place([finding]), behind: place([], 'b.wav') })
    expect(told).toMatch(/^In front: /)
    expect(told).toContain(words)
  })

  test('is nothing, and says so; and of very much only the first', () => {
    expect(findingWords({ front: place(), behind: place() })).toEqual([
      'Clock, level and noise were looked at: nothing is wrong with the recording.',
    ])
    const clipped = Array.from({ length: 20 }, (_, at) => ({
      kind: 'clipped' as const,
      fromS: at,
      toS: at,
      sampleCount: 3,
    }))
    const told = findingWords({ front: place(clipped), behind: place() })
    expect(told).toHaveLength(7)
    expect(told.at(-1)).toBe('And 14 more places.')
  })
})

test('the tables write what is not told as a dash', () => {
  expect(decayRows(place(), place())).toEqual([
    { nominalHz: 63, front: '–', behind: '–' },
    { nominalHz: 125, front: '1.2', behind: '1.2' },
    { nominalHz: 250, front: '0.88', behind: '0.88' },
  ])
  const rows = boxOrHallRows(answerOf(28, 12))
  expect(rows[0]).toEqual(['25', '–', '–', '−12.0', '0.2', '–'])
  expect(rows.at(-1)).toEqual(['16000', '−28.0', '0.2', '−12.0', '0.2', '16.0'])
})
