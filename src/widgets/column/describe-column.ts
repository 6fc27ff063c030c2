import type { ColumnAnswer } from '../../engine/questions/column/column.ts'
import {
  aboveDeg,
  type ColumnPlaceId,
  columnBassHz,
  columnEstimateFromHz,
} from '../../engine/questions/column/column-terms.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { frequencyText } from '../../words/frequencies.ts'
import { fineLengthText } from '../../words/lengths.ts'
import { downWords } from '../../words/levels.ts'
import * as say from './column.messages.ts'

/** Where a listener is. */
export const placeWords = (place: ColumnPlaceId): string => say.place({ place, degrees: aboveDeg })

/** Below this no more is promised of a level, dB. */
const lowestToldDb = -30

/** A level re the axis: '7 dB down', '1 dB up', or the given words where it rounds to nothing. */
export function levelWords(levelDb: number, same = say.asOnAxis()): string {
  return Math.round(levelDb) < lowestToldDb ? say.farDown({ decibels: -lowestToldDb }) : downWords(levelDb, same)
}

/** The same for what goes behind, which is known to a decibel or so: 'about 7 dB down'. */
export function behindWords(levelDb: number, same = say.asInFront()): string {
  const amount = levelWords(levelDb, same)
  return Math.abs(levelDb) >= 1.5 && levelDb >= lowestToldDb - 0.5 ? say.about({ amount }) : amount
}

/** Length over wavelength as people say it: 2.6, 0.3, 21. */
export const wavesOf = (waves: number): number => (waves >= 9.95 ? Math.round(waves) : Number(waves.toFixed(1)))

/** The one live sentence: how long the column is against the wave, and what that does above and behind. */
export function columnSentence(answer: ColumnAnswer, frequencyHz: number): string {
  const column = {
    frequency: frequencyText(frequencyHz),
    waves: wavesOf(answer.lengthM / answer.wavelengthM),
    degrees: aboveDeg,
    above: levelWords(answer.aboveDb, say.asOnIt()),
    behind: behindWords(answer.behindDb),
  }
  if (frequencyHz === columnBassHz) return say.columnAtBass(column)
  return say.column({
    ...column,
    bassFrequency: frequencyText(columnBassHz),
    bass: behindWords(answer.bassBehindDb),
  })
}

/** What the spacing does at this frequency, in words. */
export function spacingSentence(answer: ColumnAnswer, spacingM: number, units: LengthUnit): string {
  const row = { spacing: fineLengthText(spacingM, units), wave: fineLengthText(answer.wavelengthM, units) }
  const [beam] = answer.furtherBeams
  if (beam)
    return say.spacingOverWave({
      ...row,
      degrees: Math.round(beam.angleDeg),
      level: levelWords(beam.levelDb, say.asTheFirst()),
    })
  return spacingM > answer.wavelengthM / 2 ? say.spacingOverHalf(row) : say.spacingUnderHalf(row)
}

/** A remark where the listeners of the side view are too near for the sentence, which is for far away; else nothing. */
export const nearSentence = ({ placesDb, aboveDb }: ColumnAnswer): string =>
  Math.abs(placesDb.above - aboveDb) < 3 ? '' : say.listenersNear()

/** Whether what goes behind and beside is an estimate at this frequency. */
export const rearIsEstimate = (frequencyHz: number): boolean => frequencyHz >= columnEstimateFromHz
