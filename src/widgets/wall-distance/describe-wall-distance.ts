import type { WallAnswer, WallQuestion } from '../../engine/questions/wall/wall.ts'
import { wallChartHz } from '../../engine/questions/wall/wall-terms.ts'
import type { WaveTrains } from '../../engine/questions/wall/wave-trains.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { dipFrequencyText, frequencyText } from '../../words/frequencies.ts'
import { fineLengthText, nearLengthText } from '../../words/lengths.ts'
import { sonesText, timesAsLoud } from '../../words/loudness.ts'
import { setLengthText } from '../../words/set-length.ts'
import * as say from './wall-distance.messages.ts'

/** What the wall does in front, and what there is between box and wall. */
export function wallSentence(answer: WallAnswer, question: WallQuestion, units: LengthUnit): string {
  return `${frontSentence(answer, question, units)} ${rearSentence(answer, question, units)}`
}

function frontSentence({ dip, rise }: WallAnswer, { surroundings }: WallQuestion, units: LengthUnit): string {
  const gap = setLengthText(surroundings.gapM, units)
  const cut = dip && { cut: dipFrequencyText(dip.frequencyHz), cutDb: Math.round(-dip.changeDb) }
  const lift = rise && { lift: dipFrequencyText(rise.frequencyHz), liftDb: Math.round(rise.changeDb) }
  if (cut && lift) return say.wallCutsAndLifts({ gap, ...cut, ...lift })
  if (cut) return say.wallCuts({ gap, ...cut })
  if (lift) return say.wallLifts({ gap, ...lift })
  return say.wallChangesLittle({ gap, from: wallChartHz.min, to: wallChartHz.max })
}

function rearSentence(
  { rearBassDb, pathDb }: WallAnswer,
  { fromWallM, frontM }: WallQuestion,
  units: LengthUnit,
): string {
  const [bassDb, aloneDb] = [Math.round(rearBassDb), Math.round(pathDb)]
  const bass = {
    offWall: setLengthText(fromWallM, units),
    change: bassDb === 0 ? ('same' as const) : bassDb > 0 ? ('stronger' as const) : ('weaker' as const),
    decibels: Math.abs(bassDb),
    distance: setLengthText(frontM, units),
  }
  if (aloneDb === 0) return say.betweenEquallyFar(bass)
  // From the rounded numbers, so that what is read adds up.
  const restDb = bassDb - aloneDb
  const does = restDb === 0 ? 'nothing' : restDb > 0 ? 'add' : 'take'
  return say.between({
    ...bass,
    aloneDb: Math.abs(aloneDb),
    aloneStronger: aloneDb > 0,
    does,
    restDb: Math.abs(restDb),
  })
}

/** The number at the box: '33 Hz: 5 dB less in front'; '' without a dip. */
export const dipAtMark = ({ dip }: WallAnswer): string =>
  dip === null
    ? ''
    : say.dipAtMark({ frequency: dipFrequencyText(dip.frequencyHz), decibels: Math.round(-dip.changeDb) })

/** Where the rule lands, and where the computed dip is. */
export function ruleSentence(answer: WallAnswer, units: LengthUnit): string {
  const { thereAndBackM, ruleDipsHz, ruleRisesHz, dip, seemsFartherM } = answer
  const [halfHz, wholeHz] = [ruleDipsHz[0], ruleRisesHz[0]]
  if (halfHz === undefined) return ''
  const half = { path: nearLengthText(thereAndBackM, units), half: dipFrequencyText(halfHz) }
  const rule = wholeHz === undefined ? say.rule(half) : say.ruleWithWhole({ ...half, whole: dipFrequencyText(wholeHz) })
  if (!dip || seemsFartherM === null) return `${rule} ${say.noDip()}`
  const fartherM = Math.round(20 * seemsFartherM) / 20
  const computed = say.dip({
    from: wallChartHz.min,
    dip: dipFrequencyText(dip.frequencyHz),
    wall: fartherM === 0 ? 'there' : fartherM > 0 ? 'farther' : 'nearer',
    shift: fineLengthText(Math.abs(fartherM), units),
  })
  return `${rule} ${computed}`
}

/** How two trains meet, by what part of a wave the later one is late. */
export function stepWords(lateWaves: number): string {
  const part = lateWaves - Math.floor(lateWaves)
  if (Math.abs(part - 0.5) <= 0.125) return say.step({ step: 'out' })
  return say.step({ step: part <= 0.125 || part >= 0.875 ? 'in' : 'between' })
}

/** What happens at the frequency that is looked at. */
export function trainSentence({ lateS, lateWaves, changeDb }: WaveTrains, frequencyHz: number): string {
  const change = Math.round(changeDb)
  return say.train({
    frequency: frequencyText(frequencyHz),
    lateMs: Math.round(1000 * lateS),
    waves: Number(lateWaves.toFixed(1)),
    step: stepWords(lateWaves),
    does: change === 0 ? 'nothing' : change > 0 ? 'adds' : 'takes',
    decibels: Math.abs(change),
  })
}

/** What the wall does to the loudness of the bass in front, and the share behind. */
export function wallLoudnessSentence(heard: NonNullable<WallAnswer['heard']>): string {
  const { front, frontFree, rear } = heard
  if (front.bassSones === 0 || frontFree.bassSones === 0) return say.bassInaudible()
  const inFront = say.bassInFront({ before: sonesText(frontFree.bassSones), after: sonesText(front.bassSones) })
  return `${inFront} ${say.bassBetween({ loud: timesAsLoud(rear.bassSones / front.bassSones) })}`
}

/** What was not enough room for the place behind, or ''. */
export const clampNotice = (wantedM: number, gapM: number, units: LengthUnit): string =>
  wantedM <= gapM ? '' : say.onlyLeft({ gap: setLengthText(gapM, units) })
