import { amplitudeLevelDb, furtherBeamsRad, solveCabinet } from '../../../acoustics/index.ts'
import { lineArrayFactor } from '../../../acoustics/radiation/driver-line.ts'
import { airOf, usualAir } from '../../scene/air.ts'
import { count, decibels, degrees, type Fact, factsBy, hertz, metres } from '../fact.ts'
import { columnAnswer } from './column.ts'
import { type Column, columnBox, columnLengthM, columnPlaces, lineOf, patternDeg, seatedEarM } from './column-terms.ts'

/** The frequencies of the lesson's table, Hz. */
const columnFactHz = [100, 400, 1000, 4000] as const
type FactHz = (typeof columnFactHz)[number]

/** Size of u at which |sin u / u| is one half: the −6 dB direction of a line (computed, see halfPressureU below). */
const halfU = halfPressureU()

/** A spacing a little under a wavelength, in wavelengths: there is a good part of a further beam already. */
const nearlyAWave = 0.95

/** The numbers of the lesson for a column, from the same functions as its figure. */
export function columnFacts(column: Column) {
  const air = airOf(usualAir)
  const lengthM = columnLengthM(column)
  const besideAt = patternDeg.indexOf(90)
  const table = factsBy(
    columnFactHz.flatMap((frequencyHz) => {
      const answer = columnAnswer({ column, frequencyHz, air: usualAir })
      const facts: [`${'waves' | 'above' | 'beside' | 'behind'}-${FactHz}`, Fact][] = [
        [`waves-${frequencyHz}`, count(lengthM / answer.wavelengthM)],
        [`above-${frequencyHz}`, decibels(-answer.aboveDb)],
        [`beside-${frequencyHz}`, decibels(-(answer.horizontalDb[besideAt] as number))],
        [`behind-${frequencyHz}`, decibels(-answer.behindDb)],
      ]
      return facts
    }),
  )
  const seatedDb = columnAnswer({ column: { ...column, tiltRad: 0 }, frequencyHz: 2000, air: usualAir }).placesDb.seated
  const line = lineOf(column)
  const drivers = Array.from({ length: column.count }, (_, index) => ({
    kind: 'piston' as const,
    radiusM: line.driverRadiusM,
    xM: 0,
    yM: (index - (column.count - 1) / 2) * column.spacingM,
  }))
  const solved = solveCabinet({ ...columnBox, heightM: lengthM, drivers }, 1000, air)
  const [furtherRad = 0] = furtherBeamsRad(column.spacingM, 4000, air)
  const nearlyHz = (nearlyAWave * air.speedOfSoundMps) / column.spacingM
  return {
    ...table,
    count: count(column.count),
    length: metres(lengthM),
    spacing: metres(column.spacingM),
    'one-wave-hz': hertz(air.speedOfSoundMps / lengthM),
    'first-null-1000': degrees(degreesOfSine(air.speedOfSoundMps / 1000 / lengthM)),
    'half-1000': degrees(degreesOfSine((halfU * air.speedOfSoundMps) / 1000 / (Math.PI * lengthM))),
    // Where the first null of the further beam comes in at the side: N sin(ψ/2) has its next zero at ψ = 2π(1 − 1/N).
    'further-beam-from-hz': hertz(((1 - 1 / column.count) * air.speedOfSoundMps) / column.spacingM),
    'further-beam-hz': hertz(air.speedOfSoundMps / column.spacingM),
    'nearly-further-beam-hz': hertz(nearlyHz),
    'nearly-further-beam-up': decibels(
      -amplitudeLevelDb(Math.abs(lineArrayFactor(column.count, column.spacingM, nearlyHz, Math.PI / 2, air))),
    ),
    'further-beam-4000': degrees((furtherRad * 180) / Math.PI),
    'seated-2000': decibels(-seatedDb),
    'seated-tilt': degrees(seatedTiltDeg(column)),
    'solved-behind-1000': decibels(-solved.farFieldDb(Math.PI, 0)),
  } satisfies Record<string, Fact>
}

/** The lean that points the axis at seated ears, to a whole degree as the slider has it. */
const seatedTiltDeg = ({ heightM }: Column): number =>
  Math.round((Math.atan2(heightM - seatedEarM, columnPlaces({ heightM, tiltRad: 0 }).seated.zM) * 180) / Math.PI)

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
