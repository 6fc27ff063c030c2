import { describe, expect, test } from 'vitest'
import { digits } from '../../../src/words/digits.ts'
import { digitsIn } from '../../../src/words/local-digits.ts'
import { unitsIn } from '../../../src/words/local-units.ts'
import { delayMeasure, frequencyMeasure, levelMeasure, readLengthM, sizeMeasure } from '../../../src/words/measures.ts'

describe('a language prints numbers as its readers do', () => {
  const spanish = digitsIn('es')

  test('a comma, a true minus sign, every digit kept, no marks between thousands', () => {
    expect(spanish('1.50')).toBe('1,50')
    expect(spanish('-3.2')).toBe('−3,2')
    expect(spanish('0.0')).toBe('0,0')
    expect(spanish('16000')).toBe('16000')
    expect(spanish('31.5')).toBe('31,5')
    expect(spanish('123456.789')).toBe('123456,789')
  })

  test('what is no plain number stays as it is', () => {
    for (const text of ['', '–', '1e-7', '4 ft 5', 'NaN']) expect(spanish(text)).toBe(text)
  })

  test('English by the browser’s format is what the site prints without it', () => {
    const english = digitsIn('en-GB')
    for (let index = -400; index < 400; index++) {
      const text = (index * 0.37).toFixed(((index % 4) + 4) % 4)
      if (Number(text) !== 0) expect(english(text)).toBe(digits(text))
    }
  })
})

describe('what a field shows in a language with a comma is read back', () => {
  const spanish = digitsIn('es')
  const written = (text: string) => spanish(text.replace('−', '-'))

  test('sizes, delays, frequencies and levels, to the digits that are written', () => {
    for (let index = 1; index < 300; index++) {
      const sizeM = index / 250
      const size = sizeMeasure('m')
      expect(size.read(written(size.write(sizeM)))).toBe(size.read(size.write(sizeM)))
      const delay = delayMeasure()
      expect(delay.read(written(delay.write(index / 12345)))).toBe(delay.read(delay.write(index / 12345)))
      const level = levelMeasure()
      expect(level.read(written(level.write(-index / 7)))).toBe(level.read(level.write(-index / 7)))
      const hertz = frequencyMeasure
      expect(hertz.read(written(hertz.write(31.5 + index / 3)))).toBe(hertz.read(hertz.write(31.5 + index / 3)))
    }
  })

  test('a comma and a point are the same in what is typed', () => {
    expect(readLengthM('1,35 m', 1)).toBe(1.35)
    expect(readLengthM('1.35', 1)).toBe(1.35)
    expect(readLengthM('135,5 cm', 1)).toBe(1.355)
  })
})

test('a field knows the names of units in the language, from the browser', () => {
  const spanish = unitsIn('es')
  expect(spanish).toMatchObject({ metro: 'm', metros: 'm', pie: 'ft', pies: 'ft', pulgadas: 'in', milisegundos: 'ms' })
  expect(Object.keys(spanish)).not.toContain('')
  // Whatever a language calls them, it is a sign that fields read.
  for (const language of ['es', 'de', 'fr', 'pl'])
    for (const sign of new Set(Object.values(unitsIn(language))))
      expect(Number.isFinite(readLengthM(`2 ${sign}`, 1)) || ['s', 'ms', '°'].includes(sign)).toBe(true)
})
