import { describe, expect, test } from 'vitest'
import { meaning } from '../../../../src/widgets/compare-sent/describe-sent.ts'
import { caseOf, cases, trueParts } from '../../acoustics/measuring/verdict-cases.ts'

const seems = 'Behind, more of the treble is missing than of the bass.'

describe('what a measurement means', () => {
  const all = cases.map(({ kind, seed }) => caseOf(kind, seed))

  test('the bass is told as it truly is, within what is given or taken, 19 times out of 20 or more', () => {
    let within = 0
    for (const { truth, told } of all) {
      const [bass = ''] = meaning(told)
      const read =
        /is (?:(\d+) dB (quieter|louder) behind than|as loud behind as) in front, give or take ([\d.]+) dB\.$/
      const [, amount = '0', direction, half] = read.exec(bass) ?? []
      expect(half, bass).toBeDefined()
      // Front less behind.
      const levelDb = Number(amount) * (direction === 'louder' ? -1 : 1)
      if (Math.abs(levelDb - trueParts(truth).allDb) <= Number(half)) within++
    }
    expect(within).toBeGreaterThanOrEqual(0.95 * all.length)
  })

  test('that bass seems more is said only where more treble than bass is missing, and never where there really is more', () => {
    let said = 0
    for (const { truth, told } of all) {
      if (!meaning(told).some((sentence) => sentence.startsWith(seems))) continue
      said++
      expect(told.bassCause).not.toBe('really-more')
      const { levelDb } = told.treble?.difference ?? { levelDb: 0 }
      expect(levelDb).toBeGreaterThan(trueParts(truth).allDb)
    }
    expect(said).toBeGreaterThan(20)
  })

  test('what was not measured is called so', () => {
    const first = all[0]
    if (!first) throw new Error('there are cases')
    const told = meaning({ ...first.told, bass: null, treble: null, trebleBehind: 'cannot-tell', dips: [] })
    expect(told).toEqual([
      'How loud the bass is behind could not be measured.',
      'How loud the treble is behind could not be measured.',
      'What the room did cannot be told from these numbers.',
    ])
  })
})
