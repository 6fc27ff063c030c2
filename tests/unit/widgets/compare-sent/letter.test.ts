import { describe, expect, test } from 'vitest'
import { halfIntervalDb } from '../../../../src/acoustics/index.ts'
import type { VerdictCase } from '../../../../src/acoustics/measuring/verdict.ts'
import { seededRandom } from '../../../../src/acoustics/signals/seeded-random.ts'
import { type SentTest, sentAnswer } from '../../../../src/engine/questions/compare/sent.ts'
import { usualAir } from '../../../../src/engine/scene/air.ts'
import { headline } from '../../../../src/widgets/compare/describe-verdict.ts'
import { type Letter, longestNote, readLetter, writeLetter } from '../../../../src/widgets/compare-sent/letter.ts'
import { caseOf, cases } from '../../acoustics/measuring/verdict-cases.ts'

const testOf = ({ bands, detail, geometry, wallsAreEntered }: VerdictCase): SentTest => {
  if (!geometry) throw new Error('the cases have their geometry')
  return {
    bands: bands.map(({ levels, difference }) => (levels && difference ? { levels, difference } : null)),
    detail,
    geometry,
    wallsAreEntered,
    bringTogether: false,
    air: usualAir,
  }
}
const letterOf = (test: SentTest, note = ''): Letter => ({
  test,
  isPractice: false,
  isMatched: true,
  hasQuiet: false,
  isCorrected: { front: false, behind: true },
  date: '2026-11-29',
  note,
})
const read = (text: string): Letter => {
  const letter = readLetter(text)
  if (typeof letter === 'string') throw new Error(letter)
  return letter
}
const first = testOf(caseOf('wall', 3).given)

describe('a letter', () => {
  test('levels come back to 0.1 dB, half intervals to a percent, lengths to a millimetre, the rest as it was', () => {
    const gaps = { ...first, bands: first.bands.map((band, index) => (index % 7 === 2 ? null : band)) }
    const letter = letterOf(gaps, 'Hall B, left “stack” – 2 m up 🎧')
    const back = read(writeLetter(letter))
    expect(back).toMatchObject({ ...letter, test: expect.anything() })
    expect(back.test).toMatchObject({ wallsAreEntered: true, bringTogether: false, air: usualAir })
    for (const [index, band] of gaps.bands.entries()) {
      const there = back.test.bands[index]
      expect(there === null, `band ${index}`).toBe(band === null)
      if (!band?.levels || !band.difference || !there?.levels || !there.difference) continue
      // 0.05 dB: rounded to 0.1.
      expect(Math.abs(there.levels.front.levelDb - band.levels.front.levelDb)).toBeLessThanOrEqual(0.0501)
      expect(Math.abs(there.levels.behind.levelDb - band.levels.behind.levelDb)).toBeLessThanOrEqual(0.0501)
      expect(halfIntervalDb(there.difference) / halfIntervalDb(band.difference)).toBeCloseTo(1, 2)
    }
    for (const [index, estimate] of (back.test.detail ?? []).entries()) {
      const given = gaps.detail?.[index]
      if (!estimate || !given) throw new Error('the case has all its detail')
      expect(Math.abs(estimate.levelDb - given.levelDb)).toBeLessThanOrEqual(0.0501)
      expect(halfIntervalDb(estimate) / halfIntervalDb(given)).toBeCloseTo(1, 2)
    }
    const { geometry } = back.test
    expect(Object.keys(geometry).sort()).toEqual(Object.keys(gaps.geometry).sort())
    expect(geometry.front.distanceM).toBeCloseTo(gaps.geometry.front.distanceM, 3)
    expect(geometry.behind.wallBeyondM).toBeCloseTo(gaps.geometry.behind.wallBeyondM ?? 0, 3)
  })

  test('written, read and written again it is the same text, under 1500 signs even with the longest note', () => {
    const text = writeLetter(letterOf(first, 'n'.repeat(longestNote + 50)))
    expect(text.length).toBeLessThan(1500)
    expect(writeLetter(read(text))).toBe(text)
    expect(read(text).note).toHaveLength(longestNote)
    expect(encodeURIComponent(text)).toBe(text)
  })

  test('of band levels alone it says that there is no detail', () => {
    expect(read(writeLetter(letterOf({ ...first, detail: null }))).test.detail).toBeNull()
  })

  test('a note is one line of plain text, and says what was typed', () => {
    const note = (text: string) => read(writeLetter(letterOf(first, text))).note
    expect(note('<img src=x onerror=alert(1)>')).toBe('<img src=x onerror=alert(1)>')
    expect(note('two\nlines\u0000 \u202eturned')).toBe('two lines  turned')
  })

  test('a level that no link can hold is refused by name', () => {
    const loud = { levelDb: 300, errorDb: 0, freedom: 9 }
    const bands = first.bands.map(() => ({ levels: { front: loud, behind: loud }, difference: loud }))
    expect(() => writeLetter(letterOf({ ...first, bands }))).toThrow(/300; allowed is −204.7 to 204.7 dB/)
  })

  test('210 cases of known causes: what is read says the same sentence', () => {
    for (const { kind, seed } of cases) {
      const { given, told } = caseOf(kind, seed)
      const { verdict } = sentAnswer({ sent: read(writeLetter(letterOf(testOf(given)))).test })
      expect(headline(verdict), `${kind} ${seed}`).toBe(headline(told))
    }
  })
})

describe('a bad link is told, and nothing is thrown', () => {
  const text = writeLetter(letterOf(first, 'Hall B'))

  test.each([
    ['nothing', '', 'no measurement'],
    ['an anchor', 'figure-compare', 'no measurement'],
    ['a version before all', `0${text.slice(1)}`, 'no measurement'],
    ['a newer version', `2${text.slice(1)}`, 'newer version'],
    ['its first half', text.slice(0, text.length / 2), 'cut short'],
    ['its first signs', text.slice(0, 5), 'cut short'],
    ['all but its last sign', text.slice(0, -1), 'cut short'],
    [
      'another sign in the middle',
      `${text.slice(0, 500)}${text[500] === 'A' ? 'B' : 'A'}${text.slice(501)}`,
      'changed',
    ],
  ])('%s', (_, bad, words) => {
    expect(readLetter(bad)).toContain(words)
  })

  test('what a program has put behind it does not count', () => {
    for (const end of ['.', ')', '>', ' ', '&utm=1', 'abc']) expect(readLetter(text + end)).toEqual(read(text))
  })

  test('200 damaged links are refused in a sentence, or are what was sent', () => {
    const random = seededRandom(11)
    const signs = 'ABCxyz019-_.%<>" \u00e9\u{1f3a7}&#'
    const whole = read(text)
    let refused = 0
    for (let n = 0; n < 200; n++) {
      let bad = text
      for (let damage = 1 + Math.floor(random() * 4); damage > 0; damage--) {
        const at = Math.floor(random() * bad.length)
        const sign = signs[Math.floor(random() * signs.length)] ?? ''
        bad = bad.slice(0, at) + sign + bad.slice(at + Math.floor(random() * 4))
      }
      const letter = readLetter(bad)
      if (typeof letter === 'string') {
        expect(letter).toMatch(/^[A-Z].*\.$/)
        refused++
      } else expect(letter, bad).toEqual(whole)
    }
    expect(refused).toBeGreaterThan(190)
  })

  test('200 links with a true check sum and made-up numbers are refused or give a verdict', () => {
    const random = seededRandom(12)
    let read = 0
    for (let n = 0; n < 200; n++) {
      const level = (): number => Math.round(random() * 4000 - 2000) / 10
      const made = () => ({ levelDb: level(), errorDb: random() * 50, freedom: 1 + random() * 100 })
      const sent = {
        ...first,
        bands: first.bands.map(() =>
          random() < 0.2 ? null : { levels: { front: made(), behind: made() }, difference: made() },
        ),
        detail: first.detail?.map(() => (random() < 0.2 ? null : made())) ?? null,
        geometry: {
          front: { distanceM: random() * 3, heightM: random() * 1000 },
          behind: { distanceM: 1000 * random() },
        },
      }
      const letter = readLetter(writeLetter(letterOf(sent)))
      if (typeof letter === 'string') continue
      read++
      expect(headline(sentAnswer({ sent: letter.test }).verdict)).toMatch(/\.$/)
    }
    expect(read).toBeGreaterThan(150)
  })
})
