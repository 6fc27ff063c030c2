import {
  type Air,
  bandLevelsDb,
  type Complex,
  driverLine,
  impulseResponse,
  interpolatedTransfer,
  multiply,
  type Point,
  squaredMagnitude,
  transferKnotsHz,
} from '../../../acoustics/index.ts'
import { airOf, type InAir } from '../../scene/air.ts'
import type { ResponseSpec } from '../../scene/place-responses.ts'
import { late, type Responses } from '../../scene/responses.ts'
import { spectrumBands } from '../../scene/third-octaves.ts'
import { type Column, type ColumnPlaceId, columnPlaces, fromFrontM, inColumn, lineOf } from './column-terms.ts'

export type ColumnHearingQuestion = InAir & { column: Column; place: ColumnPlaceId }

/** What one listener hears: third octaves (spectrumBands), dB re the axis at the same distance, where the column is set flat. */
export type ColumnHearing = { hereDb: number[] }

/** The spectrum at one listener's place. Throws RangeError for a column out of range. */
export function columnHearing({ column, place, air }: ColumnHearingQuestion): ColumnHearing {
  const transfer = transferReAxis(column, columnPlaces(column)[place], airOf(air))
  return { hereDb: Array.from(bandLevelsDb(transfer, spectrumBands, 6)) }
}

export type ColumnResponsesQuestion = ColumnHearingQuestion & ResponseSpec

/** Impulse responses at a listener's place and on the axis at the same distance, where the column is set flat (0 dB). */
export function columnResponses(question: ColumnResponsesQuestion): Responses {
  const { column, place, sampleRateHz, length } = question
  const spec = { sampleRateHz, length }
  const knotsHz = transferKnotsHz({ fineStepHz: sampleRateHz / length, widestStepHz: 12, toHz: sampleRateHz / 2 })
  const here = interpolatedTransfer(transferReAxis(column, columnPlaces(column)[place], airOf(question.air)), knotsHz)
  return {
    here: impulseResponse((frequencyHz) => multiply(here(frequencyHz), late(frequencyHz)), spec),
    front: impulseResponse((frequencyHz) => late(frequencyHz), spec),
  }
}

/** Below this frequency, Hz, a transfer is that of this frequency: the sound does not change any more. */
const lowestHz = 10

/** Pressure at a place over the pressure on the axis at the same distance, as a function of frequency. */
function transferReAxis(column: Column, place: Point, air: Air): (frequencyHz: number) => Complex {
  const line = lineOf(column)
  const here = inColumn(column, place)
  const axis = { xM: 0, yM: 0, zM: fromFrontM(here) }
  return (frequencyHz) => {
    const radiation = driverLine(line, Math.max(frequencyHz, lowestHz), air)
    const [a, b] = [radiation.pressureAt(here), radiation.pressureAt(axis)]
    const norm = squaredMagnitude(b)
    return { re: (a.re * b.re + a.im * b.im) / norm, im: (a.im * b.re - a.re * b.im) / norm }
  }
}
