import { furtherBeamsRad, solveCabinet } from '../../../acoustics/index.ts'
import { airOf, usualAir } from '../../scene/air.ts'
import { type Column, columnAnswer, columnBox, columnLengthM, lineOf, patternDeg } from './column.ts'

/** A number that the lesson on columns needs. A drop is positive when the place is quieter than the axis. */
export type ColumnFact = { value: number; unit: 'dB' | 'm' | 'Hz' | '°' | '1' }

/** The frequencies of the lesson's table, Hz. */
export const columnFactHz = [100, 400, 1000, 4000] as const
type FactHz = (typeof columnFactHz)[number]

export type ColumnFactName =
  | `${'waves' | 'above' | 'beside' | 'behind' | 'wavelength'}-${FactHz}`
  | 'count'
  | 'length'
  | 'spacing'
  | 'one-wave-hz'
  | 'first-null-1000'
  | 'half-1000'
  | 'further-beam-hz'
  | 'further-beam-4000'
  | 'seated-2000'
  | 'seated-tilted-2000'
  | 'seated-tilt'
  | 'solved-behind-1000'
  | 'solved-behind-100'

/** Size of u at which |sin u / u| is one half: the −6 dB direction of a line (computed, see halfPressureU below). */
const halfU = halfPressureU()

let kept: Record<ColumnFactName, ColumnFact> | undefined

/** The numbers of the lesson for a column, from the same functions as its figure; computed once. */
export function columnFacts(column: Column): Record<ColumnFactName, ColumnFact> {
  kept ??= computeFacts(column)
  return kept
}

function computeFacts(column: Column): Record<ColumnFactName, ColumnFact> {
  const air = airOf(usualAir)
  const lengthM = columnLengthM(column)
  const besideAt = patternDeg.indexOf(90)
  const table = Object.fromEntries(
    columnFactHz.flatMap((frequencyHz) => {
      const answer = columnAnswer({ column, frequencyHz, air: usualAir })
      return [
        [`waves-${frequencyHz}`, { value: lengthM / answer.wavelengthM, unit: '1' }],
        [`wavelength-${frequencyHz}`, { value: answer.wavelengthM, unit: 'm' }],
        [`above-${frequencyHz}`, { value: -answer.aboveDb, unit: 'dB' }],
        [`beside-${frequencyHz}`, { value: -(answer.horizontalDb[besideAt] as number), unit: 'dB' }],
        [`behind-${frequencyHz}`, { value: -answer.behindDb, unit: 'dB' }],
      ]
    }),
  ) as Record<`${'waves' | 'above' | 'beside' | 'behind' | 'wavelength'}-${FactHz}`, ColumnFact>
  // The lean that points the axis at seated ears, to a whole degree as the slider has it.
  const upright = { ...column, tiltRad: 0 }
  const seatedTiltDeg = Math.round((Math.atan2(column.heightM - 1.2, 2.5) * 180) / Math.PI)
  const leaning = { ...column, tiltRad: (seatedTiltDeg * Math.PI) / 180 }
  const seated = (one: Column) => -columnAnswer({ column: one, frequencyHz: 2000, air: usualAir }).placesDb.seated
  const line = lineOf(column)
  const drivers = Array.from({ length: column.count }, (_, index) => ({
    kind: 'piston' as const,
    radiusM: line.driverRadiusM,
    xM: 0,
    yM: (index - (column.count - 1) / 2) * column.spacingM,
  }))
  const solvedBehind = (frequencyHz: number) =>
    -solveCabinet({ ...columnBox, heightM: lengthM, drivers }, frequencyHz, air).farFieldDb(Math.PI, 0)
  const [furtherRad = 0] = furtherBeamsRad(column.spacingM, 4000, air)
  return {
    ...table,
    count: { value: column.count, unit: '1' },
    length: { value: lengthM, unit: 'm' },
    spacing: { value: column.spacingM, unit: 'm' },
    'one-wave-hz': { value: air.speedOfSoundMps / lengthM, unit: 'Hz' },
    'first-null-1000': { value: degreesOfSine(air.speedOfSoundMps / 1000 / lengthM), unit: '°' },
    'half-1000': { value: degreesOfSine((halfU * air.speedOfSoundMps) / 1000 / (Math.PI * lengthM)), unit: '°' },
    'further-beam-hz': { value: air.speedOfSoundMps / column.spacingM, unit: 'Hz' },
    'further-beam-4000': { value: (furtherRad * 180) / Math.PI, unit: '°' },
    'seated-2000': { value: seated(upright), unit: 'dB' },
    'seated-tilted-2000': { value: seated(leaning), unit: 'dB' },
    'seated-tilt': { value: seatedTiltDeg, unit: '°' },
    'solved-behind-1000': { value: solvedBehind(1000), unit: 'dB' },
    'solved-behind-100': { value: solvedBehind(100), unit: 'dB' },
  }
}

const degreesOfSine = (sine: number): number => (Math.asin(sine) * 180) / Math.PI

/** sin u / u = 1/2 by bisection between 0 and the first null at π. */
function halfPressureU(): number {
  let [low, high] = [0, Math.PI]
  for (let round = 0; round < 60; round++) {
    const middle = (low + high) / 2
    if (Math.sin(middle) / middle > 0.5) low = middle
    else high = middle
  }
  return low
}
