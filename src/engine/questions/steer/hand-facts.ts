import { type Fact, factsBy, hertz, milliseconds } from '../fact.ts'
import { lessonSpeedMps } from './steer-lesson.ts'
import { delayOfSpacingS } from './textbook-set.ts'

/** Spacings of the table to be worked by hand, cm, which name its rows. */
export const handSpacingsCm = [70, 85, 100, 120, 135, 170, 200] as const

type Row = `${'delay' | 'quarter' | 'from' | 'to' | 'silent'}-by-${(typeof handSpacingsCm)[number]}`

/**
 * The arithmetic by hand: delay d/c; the quarter wave c/4d, where the front of a pair of points loses nothing; 3 dB are lost at half
 * and at one and a half times that, because −20 lg |sin kd| is 3 dB at kd = π/4 and 3π/4; the front is silent at c/2d.
 */
export const handFacts = () =>
  factsBy(
    handSpacingsCm.flatMap((spacingCm) => {
      const spacingM = spacingCm / 100
      const quarterHz = lessonSpeedMps / (4 * spacingM)
      const facts: [Row, Fact][] = [
        [`delay-by-${spacingCm}`, milliseconds(delayOfSpacingS(spacingM, lessonSpeedMps))],
        [`quarter-by-${spacingCm}`, hertz(quarterHz)],
        [`from-by-${spacingCm}`, hertz(quarterHz / 2)],
        [`to-by-${spacingCm}`, hertz(1.5 * quarterHz)],
        [`silent-by-${spacingCm}`, hertz(2 * quarterHz)],
      ]
      return facts
    }),
  )
