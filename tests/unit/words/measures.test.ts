import { describe, expect, test } from 'vitest'
import {
  angleMeasure,
  delayMeasure,
  frequencyMeasure,
  inchMeasure,
  levelMeasure,
  type Measure,
  readLengthM,
  sizeMeasure,
  tapeMeasure,
  typedProblem,
} from '../../../src/words/measures.ts'

describe('a number is read as people write it', () => {
  // An inch is 25.4 mm and a foot 12 inches by definition.
  test.each([
    ['53 in', 1.3462],
    ['1\'6"', 0.4572],
    ['1’ 6”', 0.4572],
    ['1 ft 6 in', 0.4572],
    ['1 foot 6 inches', 0.4572],
    ["1' 6''", 0.4572],
    ['-1 ft 6 in', -0.4572],
    ['5 1/2 in', 0.1397],
    ['5½"', 0.1397],
    ['135 cm', 1.35],
    ['1.35 m', 1.35],
    ['1,35 m', 1.35],
    ['1350 mm', 1.35],
    ['1350mm', 1.35],
    ['2 Metres', 2],
    ['.5 m', 0.5],
    ['4.5 ft', 1.3716],
  ])('%s is %d m, whatever the reader measures in', (text, lengthM) => {
    for (const measure of [tapeMeasure('m'), tapeMeasure('ft'), sizeMeasure('m'), sizeMeasure('ft')])
      expect(measure.read(text)).toBeCloseTo(lengthM, 9)
  })

  test('a bare number is in the unit that is shown', () => {
    expect(tapeMeasure('m').read('0,45')).toBe(0.45)
    expect(tapeMeasure('ft').read('3')).toBe(0.9144)
    expect(sizeMeasure('ft').read('−3')).toBe(-0.0762)
    expect(inchMeasure.read('15')).toBe(0.381)
    expect(delayMeasure().read('3.9')).toBe(0.0039)
    expect(delayMeasure(1).read('3.9')).toBe(3.9)
    expect(frequencyMeasure.read('80')).toBe(80)
  })

  test.each([
    [delayMeasure(), '3.9 ms', 0.0039],
    [delayMeasure(), '0.0039 s', 0.0039],
    [delayMeasure(), '3900 µs', 0.0039],
    [frequencyMeasure, '80 Hz', 80],
    [frequencyMeasure, '1.2 kHz', 1200],
    [frequencyMeasure, '1.2k', 1200],
    [levelMeasure(), '−3', -3],
    [levelMeasure(), '+2 dB', 2],
    [levelMeasure('dB(A)'), '85 dB(A)', 85],
    [angleMeasure, '90°', 90],
    [angleMeasure, '90 degrees', 90],
  ] as const)('with its unit: %#', (measure, text, value) => {
    expect(measure.read(text)).toBeCloseTo(value, 12)
  })

  test.each([
    '',
    ' ',
    'far',
    '1e3',
    'NaN',
    '3 apples',
    '--3',
    '1.2.3',
    '<b>3</b>',
    '5 ft 6 cm',
    'Infinity',
    '1/0',
    '3 Hz',
  ])('%s is no length', (text) => {
    expect(readLengthM(text, 1)).toBeNaN()
  })

  test('the unit of another quantity is refused', () => {
    expect(delayMeasure().read('3 m')).toBeNaN()
    expect(frequencyMeasure.read('3 ms')).toBeNaN()
    expect(levelMeasure().read('3 Hz')).toBeNaN()
  })
})

describe('what is written is read as the same', () => {
  const spread = (from: number, to: number, step: number) =>
    Array.from({ length: Math.round((to - from) / step) + 1 }, (_, index) => Number((from + index * step).toFixed(9)))
  test.each<[string, Measure, number[], number]>([
    // The third number is half of the last digit that is written.
    ['metres', tapeMeasure('m'), spread(-3, 12, 0.013), 0.0005],
    ['feet and inches', tapeMeasure('ft'), spread(-3, 12, 0.013), 0.0254 / 4],
    ['sizes', sizeMeasure('m'), spread(-1, 2, 0.0017), 0.0005],
    ['inches', sizeMeasure('ft'), spread(-1, 2, 0.0017), 0.00127],
    ['delays', delayMeasure(), spread(0, 0.03, 0.0001), 5e-7],
    ['delays in ms', delayMeasure(1), spread(0, 50, 0.1), 5e-4],
    ['frequencies', frequencyMeasure, spread(20, 20000, 13.7), 0.005],
    ['levels', levelMeasure(), spread(-40, 20, 0.1), 5e-4],
    ['angles', angleMeasure, spread(0, 180, 0.5), 0.05],
  ])('%s', (_, measure, values, half) => {
    for (const value of values) {
      const text = measure.write(value)
      const back = measure.read(text)
      // Lengths are kept to a tenth of a millimetre.
      const grain = measure.kind === 'length' ? 5e-5 : 0
      expect(Math.abs(back - value)).toBeLessThanOrEqual(half + grain + 1e-9)
      expect(measure.write(back)).toBe(text)
      expect(measure.write(measure.read(measure.tell(value)))).toBe(text)
    }
  })
})

describe('what is refused is refused with what is allowed', () => {
  const spacing = { min: 0.3, max: 12 }
  test.each([
    ['far', 'Not a length that this page can read. Allowed: 0.3 m to 12 m.'],
    ['-3', 'Below zero. Allowed: 0.3 m to 12 m.'],
    ['0', 'Zero. Allowed: 0.3 m to 12 m.'],
    ['0.2', 'Too small. Allowed: 0.3 m to 12 m.'],
    ['99', 'Too large. Allowed: 0.3 m to 12 m.'],
    ['0.3', undefined],
    ['12', undefined],
    ['53 in', undefined],
  ])('%s', (text, words) => {
    const measure = tapeMeasure('m')
    expect(typedProblem(measure.read(text), measure, spacing)).toBe(words)
  })

  test('the limit as it is told can be typed, also where telling it rounds it up', () => {
    const measure = tapeMeasure('ft')
    expect(measure.tell(12)).toBe('39 ft 4.5 in')
    expect(typedProblem(measure.read('39 ft 4.5 in'), measure, spacing)).toBeUndefined()
    expect(typedProblem(measure.read('40'), measure, spacing)).toBe('Too large. Allowed: 1 ft 0 in to 39 ft 4.5 in.')
  })
})
