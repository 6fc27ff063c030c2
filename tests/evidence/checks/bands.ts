import { type Band, octaveBands, thirdOctaveBands } from '../../../src/acoustics/bands/octave-bands.ts'
import { thirdOctaveAttenuationDb } from '../../../src/acoustics/signals/third-octave-levels.ts'
import type { Check, CheckGroup } from '../check.ts'
import reference from '../reference/octave-bands.json' with { type: 'json' }

const idPart = (value: number): string => String(value).replace('.', '-')

function bandChecksOf(
  rows: typeof reference.octaves,
  kind: 'octave' | 'third-octave',
  bandOf: (nominalHz: number) => Band,
): Check[] {
  const name = kind === 'octave' ? 'Octave' : 'Third octave'
  return rows.flatMap((row) =>
    (
      [
        ['centreHz', 'centre'],
        ['lowerHz', 'lower edge'],
        ['upperHz', 'upper edge'],
      ] as const
    ).map(([field, words]) => ({
      id: `band-${kind}-${idPart(row.nominalHz)}-${words.replace(' ', '-')}`,
      kind: 'outside',
      quantity: `${name} ${row.nominalHz} Hz, ${words}`,
      unit: 'Hz',
      source: 'iec-61260-1',
      place: 'Formulas (1) to (5)',
      input: `nominal ${row.nominalHz} Hz`,
      expected: row[field],
      tolerance: 0.5 * 10 ** (Math.floor(Math.log10(row[field])) - 6),
      toleranceReason: 'half a unit of the seventh digit, to which the reference is written',
      computed: () => bandOf(row.nominalHz)[field],
    })),
  )
}

const thirdOctave = (nominalHz: number): Band => thirdOctaveBands(nominalHz, nominalHz)[0] as Band
const octave = (nominalHz: number): Band => octaveBands(nominalHz, nominalHz)[0] as Band

export const bandChecks: CheckGroup = {
  title: 'Frequency bands',
  checks: [
    ...bandChecksOf(reference.octaves, 'octave', octave),
    ...bandChecksOf(reference.thirdOctaves, 'third-octave', thirdOctave),
  ],
}

type Limit = { ratioAbove: number; ratioBelow: number; minDb: number; maxDb: number | null; side: string }

function limitChecks(limits: Limit[], kind: 'octave' | 'third-octave', band: Band, place: string): Check[] {
  return limits.flatMap((limit, row) => {
    const ratios = limit.ratioAbove === 1 ? [1] : [limit.ratioAbove, limit.ratioBelow]
    return ratios.flatMap((ratio) => {
      const shared = {
        kind: 'outside' as const,
        quantity: `${kind === 'octave' ? 'Octave' : 'Third-octave'} filter, attenuation${limit.side ? `, just ${limit.side} the edge` : ''}`,
        unit: 'dB',
        source: 'iec-61260-1',
        place,
        input: `${ratio} × centre frequency`,
        tolerance: 0,
        toleranceReason: 'the limit itself may not be passed',
        computed: () => thirdOctaveAttenuationDb(ratio * band.centreHz, band),
      }
      const id = `filter-${kind}-${row}-${ratio > 1 ? 'above' : ratio < 1 ? 'below' : 'centre'}`
      const checks: Check[] = [{ ...shared, id: `${id}-min`, relation: 'at least', expected: limit.minDb }]
      if (limit.maxDb !== null) checks.push({ ...shared, id: `${id}-max`, relation: 'at most', expected: limit.maxDb })
      return checks
    })
  })
}

export const bandFilterChecks: CheckGroup = {
  title: 'Band filters inside the class 1 limits',
  checks: [
    ...limitChecks(reference.class1ThirdOctaveLimits, 'third-octave', thirdOctave(1000), 'Table F.1, class 1'),
    ...limitChecks(reference.class1OctaveLimits, 'octave', octave(1000), 'Table 1, class 1'),
  ],
}
