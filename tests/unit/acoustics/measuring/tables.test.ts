import { describe, expect, test } from 'vitest'
import { readBandTable, writeBandTable } from '../../../../src/acoustics/measuring/band-table.ts'
import {
  microphoneBandLevel,
  microphoneLevel,
  microphoneUnreachedHz,
  readMicrophoneFile,
} from '../../../../src/acoustics/measuring/microphone-file.ts'
import { recordingBands } from '../../../../src/acoustics/measuring/recording-bands.ts'
import { RecordingError } from '../../../../src/acoustics/measuring/recording-problem.ts'
import { seededRandom } from '../../../../src/acoustics/signals/seeded-random.ts'

const band = (nominalHz: number): number => recordingBands.findIndex((each) => each.nominalHz === nominalHz)
const problemOf = (read: () => unknown): unknown => {
  try {
    read()
  } catch (error) {
    expect(error).toBeInstanceOf(RecordingError)
    return (error as RecordingError).problem
  }
  return undefined
}

describe('a table of band levels', () => {
  test.each([
    ['commas and points', 'Hz,front,behind\n63,80.5,78.25\n1000,70,60.5'],
    ['semicolons and decimal commas', 'Hz;front;behind\r\n63;80,5;78,25\r\n1000;70;60,5\r\n'],
    ['tabs and decimal commas', '63\t80,5\t78,25\n1000\t70\t60,5'],
    ['blanks and decimal commas', '63 80,5 78,25\n1000 70,0 60,5'],
    ['quotes, a byte order mark and blank lines', '\uFEFF"f","a","b"\n\n"63","80.5","78.25"\n"1000","70","60.5"\n\n'],
    ['the highest first', '1000,70,60.5\n63,80.5,78.25'],
    ['exact frequencies', '63.0957,80.5,78.25\n1000,70,60.5'],
  ])('is read with %s', (_, text) => {
    const { front, behind, missingHz } = readBandTable(text)
    expect([front[band(63)], front[band(1000)]]).toEqual([80.5, 70])
    expect([behind?.[band(63)], behind?.[band(1000)]]).toEqual([78.25, 60.5])
    expect(missingHz).toHaveLength(27)
    expect(missingHz).not.toContain(63)
  })

  test('one column is the front; bands outside are named and passed over; empty cells are missing', () => {
    const { front, behind, missingHz, outsideHz } = readBandTable('20;71\n25;72\n31.5;-\n20000;10')
    expect(behind).toBeNull()
    expect(front[0]).toBe(72)
    expect(outsideHz).toEqual([20, 20000])
    expect(missingHz[0]).toBe(31.5)
  })

  test.each([
    ['letters', 'f,l\n63,80\n80,loud', { kind: 'table-line', line: 3, text: '80,loud' }],
    ['only a header', 'f,l', { kind: 'table-empty' }],
    ['nothing', ' \n\n', { kind: 'table-empty' }],
    ['one column', '63\n80', { kind: 'table-columns', line: 1, found: 1, allowed: 3 }],
    ['decimal commas between commas', '63,80,5,78,2', { kind: 'table-columns', line: 1, found: 5, allowed: 3 }],
    ['a frequency between bands', '70,80', { kind: 'table-frequency', line: 1, frequencyHz: 70 }],
    ['a frequency below zero', '-63,80', { kind: 'table-frequency', line: 1, frequencyHz: -63 }],
    ['a band twice', '63,80\n63.1,81', { kind: 'table-twice', line: 2, frequencyHz: 63.1 }],
    ['a level beyond belief', '63,8000', { kind: 'table-level', line: 1, levelDb: 8000 }],
    ['no band in the range', '20,70\n16,70', { kind: 'table-no-band' }],
  ])('with %s is refused by line and name', (_, text, problem) => {
    expect(problemOf(() => readBandTable(text))).toEqual(problem)
  })

  test.each(['point', 'comma'] as const)('written with a decimal %s is read back', (form) => {
    const front = recordingBands.map((_, i) => (i === 3 ? null : 60 + i / 4))
    const behind = recordingBands.map((_, i) => (i === 28 ? null : 50 - i / 4))
    const read = readBandTable(writeBandTable({ front, behind }, form))
    expect(read).toMatchObject({ front, behind, missingHz: [50, 16000] })
    expect(readBandTable(writeBandTable({ front, behind: null }, form))).toMatchObject({ front, behind: null })
  })
})

describe("a microphone's file", () => {
  const text = '* a microphone\n# its number\n; more\nFreq dB\n1000 0.0 12\n20\t-3.0\n10000,2.5\n'

  test('has its comments and further columns passed over, in any order', () => {
    expect(readMicrophoneFile(text)).toEqual({ frequenciesHz: [20, 1000, 10000], levelsDb: [-3, 0, 2.5] })
  })

  test('is read between its frequencies on a logarithmic scale and held at the ends', () => {
    const microphone = readMicrophoneFile(text)
    expect(microphoneLevel(microphone, Math.sqrt(20 * 1000)).levelDb).toBeCloseTo(-1.5, 12)
    expect(microphoneLevel(microphone, 10 ** 3.5)).toEqual({ levelDb: expect.closeTo(1.25, 12), isInFile: true })
    expect(microphoneLevel(microphone, 10)).toEqual({ levelDb: -3, isInFile: false })
    expect(microphoneLevel(microphone, 16000)).toEqual({ levelDb: 2.5, isInFile: false })
    expect(microphoneLevel(microphone, 20)).toEqual({ levelDb: -3, isInFile: true })
  })

  test('is taken off a band as the mean of its power there, and not where it does not reach', () => {
    const third = (nominalHz: number) => recordingBands[band(nominalHz)] as (typeof recordingBands)[number]
    // A file that rises by 6 dB an octave: over a third octave the mean of f² lies 0.14 dB over its middle.
    const rising = { frequenciesHz: [100, 1600], levelsDb: [0, 24] }
    const perDecade = 24 / Math.log10(16)
    for (const nominalHz of [200, 500, 1250]) {
      const { lowerHz, upperHz } = third(nominalHz)
      const p = perDecade / 10
      const [from, to] = [Math.log10(lowerHz / 100), Math.log10(upperHz / 100)]
      const mean = (10 ** (p * to) - 10 ** (p * from)) / (p * Math.LN10 * (to - from))
      // 0.001 dB: sixteen places against the integral.
      expect(microphoneBandLevel(rising, third(nominalHz))).toBeCloseTo(10 * Math.log10(mean), 3)
    }
    expect(microphoneBandLevel(rising, third(80))).toBeNull()
    expect(microphoneBandLevel(rising, third(2000))).toBeNull()
    expect(microphoneBandLevel(rising, third(1600))).not.toBeNull()
    expect(microphoneUnreachedHz({ frequenciesHz: [63, 12500], levelsDb: [0, 0] })).toEqual([25, 31.5, 40, 50, 16000])
    expect(microphoneUnreachedHz({ frequenciesHz: [20, 20000], levelsDb: [0, 0] })).toEqual([])
  })

  test.each([
    ['letters', '20 0\n50 flat', { kind: 'table-line', line: 2, text: '50 flat' }],
    ['one row', '20 0', { kind: 'too-few-rows', found: 1, needed: 2 }],
    ['one column', '20\n30', { kind: 'table-columns', line: 1, found: 1, allowed: 3 }],
    ['a frequency twice', '20 0\n20 1', { kind: 'table-twice', line: 2, frequencyHz: 20 }],
    ['a frequency of zero', '0 0\n20 1', { kind: 'table-frequency', line: 1, frequencyHz: 0 }],
    ['a level beyond belief', '20 0\n30 100', { kind: 'table-level', line: 2, levelDb: 100 }],
  ])('with %s is refused by line and name', (_, broken, problem) => {
    expect(problemOf(() => readMicrophoneFile(broken))).toEqual(problem)
  })
})

test('a thousand damaged tables are read or refused, and nothing else', () => {
  const random = seededRandom(5)
  const whole = writeBandTable({ front: recordingBands.map(() => 70), behind: recordingBands.map(() => 65) })
  const letters = '0123456789.,;\t\n -+eE"x#\0é'
  for (let n = 0; n < 1000; n++) {
    let text = whole
    for (let damage = 1 + Math.floor(random() * 3); damage > 0; damage--) {
      const at = Math.floor(random() * text.length)
      text =
        text.slice(0, at) + letters[Math.floor(random() * letters.length)] + text.slice(at + Math.floor(random() * 3))
    }
    for (const read of [readBandTable, readMicrophoneFile]) {
      try {
        read(text)
      } catch (error) {
        expect(error, JSON.stringify(text)).toBeInstanceOf(RecordingError)
      }
    }
  }
})
