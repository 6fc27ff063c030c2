import { contourLevelDb, loudnessLevelPhon } from '../../../src/acoustics/hearing/equal-loudness.ts'
import type { Check, CheckGroup } from '../check.ts'
import digits from '../reference/contour-digits.json' with { type: 'json' }
import reference from '../reference/equal-loudness.json' with { type: 'json' }

const idPart = (value: number): string => String(value).replace('.', '-')
const printed = {
  source: 'iso-226',
  place: 'Annex B',
  tolerance: 0.05,
  toleranceReason: 'the standard prints it to 0.1',
}

const printedLevels: Check[] = reference.contourPoints.map(({ phon, frequencyHz, levelDb }) => ({
  ...printed,
  id: `contour-printed-${phon}-${frequencyHz}`,
  kind: 'outside',
  quantity: `Level of a tone as loud as ${phon} phon, ${frequencyHz} Hz`,
  unit: 'dB',
  input: `${phon} phon, ${frequencyHz} Hz`,
  expected: levelDb,
  computed: () => contourLevelDb(phon, frequencyHz),
}))

const printedPhons: Check[] = reference.loudnessLevelPoints.map(({ levelDb, frequencyHz, phon }) => ({
  ...printed,
  id: `loudness-level-printed-${levelDb}-${frequencyHz}`,
  kind: 'outside',
  quantity: `Loudness level of a tone of ${levelDb} dB, ${frequencyHz} Hz`,
  unit: 'phon',
  input: `${levelDb} dB, ${frequencyHz} Hz`,
  expected: phon,
  computed: () => loudnessLevelPhon(levelDb, frequencyHz),
}))

const wholeContours: Check[] = reference.contours.flatMap(({ phon, levelsDb }) =>
  levelsDb.flatMap((levelDb, i): Check[] => {
    const frequencyHz = reference.table[i]?.frequencyHz
    if (levelDb === null || frequencyHz === undefined) return []
    return [
      {
        id: `contour-${phon}-${idPart(frequencyHz)}`,
        kind: 'outside',
        quantity: `The ${phon}-phon contour at ${frequencyHz} Hz`,
        unit: 'dB',
        source: 'iso-226',
        place: 'Table 1 and Formula (1), evaluated apart from this project',
        input: `${phon} phon, ${frequencyHz} Hz`,
        expected: levelDb,
        tolerance: 0.005 + 1e-9,
        toleranceReason: 'the expected value is rounded to 0.01 dB',
        computed: () => contourLevelDb(phon, frequencyHz),
      },
    ]
  }),
)

const between: Check[] = digits.points.map(({ phon, frequencyHz, levelDb }) => ({
  id: `contour-between-${phon}-${frequencyHz}`,
  kind: 'method',
  quantity: `The ${phon}-phon contour between the standard’s frequencies, at ${frequencyHz} Hz`,
  unit: 'dB',
  source: 'scipy',
  place: `scipy.interpolate.CubicSpline over log frequency, contour-digits.py beside the checks (${digits.source.split(', ').slice(1).join(', ')}); that it is a spline is our choice, the standard has no rule`,
  input: `${phon} phon, ${frequencyHz} Hz`,
  expected: levelDb,
  tolerance: 1e-9,
  toleranceReason: 'double precision of two small systems of equations',
  computed: () => contourLevelDb(phon, frequencyHz),
}))

export const equalLoudnessChecks: CheckGroup = {
  title: 'Equal-loudness contours',
  checks: [...printedLevels, ...printedPhons, ...wholeContours, ...between],
}
