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

/** The listeners by name. */
export const placeNames: Record<ColumnPlaceId, string> = {
  seated: 'seated in front',
  standing: 'standing in front',
  above: `${aboveDeg}° above the axis`,
  behind: 'standing behind',
}

/** A level re the axis: '7 dB down', '1 dB up', or the given words where it rounds to nothing. Below −30 dB no more is promised. */
export function levelWords(levelDb: number, same = 'as on the axis'): string {
  return Math.round(levelDb) < -30 ? 'more than 30 dB down' : downWords(levelDb, same)
}

/** The same for what goes behind, which is known to a decibel or so: 'about 7 dB down'. */
export function behindWords(levelDb: number, same = 'as loud as in front'): string {
  const words = levelWords(levelDb, same)
  return Math.abs(levelDb) >= 1.5 && levelDb >= -30.5 ? `about ${words}` : words
}

/** Length over wavelength as people say it: '2.6', '0.3', '21'. */
export const wavesText = (waves: number): string =>
  waves >= 9.95 ? String(Math.round(waves)) : String(Number(waves.toFixed(1)))

/** The one live sentence: how long the column is against the wave, and what that does above and behind. */
export function columnSentence(answer: ColumnAnswer, frequencyHz: number): string {
  const waves = wavesText(answer.lengthM / answer.wavelengthM)
  const long = `At ${frequencyText(frequencyHz)} the column is ${waves} wavelength${waves === '1' ? '' : 's'} long`
  const above = `${aboveDeg}° above its axis it is ${levelWords(answer.aboveDb, 'as loud as on it')}.`
  const behind = `Straight behind it is ${behindWords(answer.behindDb)}`
  if (frequencyHz === columnBassHz) return `${long}: ${above} ${behind}.`
  const bass = behindWords(answer.bassBehindDb)
  return `${long}: ${above} ${behind}; at ${frequencyText(columnBassHz)}, ${bass}.`
}

/** What the spacing does at this frequency, in words. */
export function spacingSentence(answer: ColumnAnswer, spacingM: number, units: LengthUnit): string {
  const apart = `The drivers are ${fineLengthText(spacingM, units)} apart`
  const wave = fineLengthText(answer.wavelengthM, units)
  const [beam] = answer.furtherBeams
  if (beam)
    return `${apart}, more than the wavelength of ${wave}: neighbours are a whole wave out at ${Math.round(beam.angleDeg)}° and add again, so a further beam goes up and another down, ${levelWords(beam.levelDb, 'as strong as the first')}.`
  if (spacingM > answer.wavelengthM / 2)
    return `${apart}, less than the wavelength of ${wave} but more than half of it: there is one beam, and further ones are near straight up and down.`
  return `${apart}, less than half the wavelength of ${wave}: they act as one line, with one beam.`
}

/** A remark where the listeners of the side view are too near for the sentence, which is for far away; else nothing. */
export function nearSentence({ placesDb, aboveDb }: ColumnAnswer): string {
  if (Math.abs(placesDb.above - aboveDb) < 3) return ''
  return 'The listeners drawn here are too near for that: close to a long column you hear it in parts, and it becomes one beam only farther away.'
}

/** Whether what goes behind and beside is an estimate at this frequency. */
export const rearIsEstimate = (frequencyHz: number): boolean => frequencyHz >= columnEstimateFromHz
