import { aWeightingDb, cWeightingDb, weightingPolesHz } from '../../../src/acoustics/hearing/frequency-weighting.ts'
import type { Check, CheckGroup } from '../check.ts'
import reference from '../reference/frequency-weighting.json' with { type: 'json' }

const idPart = (value: number): string => String(value).replace('.', '-')

const tableChecks: Check[] = reference.rows.flatMap((row) => {
  const frequencyHz = 10 ** (Math.round(10 * Math.log10(row.nominalHz)) / 10)
  const shared = {
    unit: 'dB',
    source: 'iec-61672-1',
    place: 'Table 3',
    input: `${Number(frequencyHz.toPrecision(6))} Hz`,
    tolerance: 0.05,
    toleranceReason: 'the table is rounded to 0.1 dB',
  }
  return [
    {
      ...shared,
      id: `weighting-a-${idPart(row.nominalHz)}`,
      kind: 'outside',
      quantity: `A weighting at ${row.nominalHz} Hz`,
      expected: row.aDb,
      computed: () => aWeightingDb(frequencyHz),
    },
    {
      ...shared,
      id: `weighting-c-${idPart(row.nominalHz)}`,
      kind: 'outside',
      quantity: `C weighting at ${row.nominalHz} Hz`,
      expected: row.cDb,
      computed: () => cWeightingDb(frequencyHz),
    },
  ]
})

const poleChecks: Check[] = (['f1', 'f2', 'f3', 'f4'] as const).map((pole, i) => {
  const expected = reference.printedPolesHz[i] as number
  const halfUnit = [0.005, 0.05, 0.05, 0.5][i] as number
  return {
    id: `weighting-pole-${pole}`,
    kind: 'outside',
    quantity: `Pole frequency ${pole} of the weightings`,
    unit: 'Hz',
    source: 'iec-61672-1',
    place: 'Annex E',
    input: 'design goals 10^1.5, 10^3.9 and 10^2.45 Hz',
    expected,
    tolerance: halfUnit,
    toleranceReason: 'half a unit of the last printed digit',
    computed: () => weightingPolesHz[pole],
  }
})

export const weightingChecks: CheckGroup = { title: 'A and C weighting', checks: [...tableChecks, ...poleChecks] }
