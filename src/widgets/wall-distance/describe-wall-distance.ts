import type { WallAnswer, WallQuestion } from '../../engine/questions/wall/wall.ts'
import { wallChartHz } from '../../engine/questions/wall/wall-terms.ts'
import type { WaveTrains } from '../../engine/questions/wall/wave-trains.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { dipFrequencyText, frequencyText } from '../../words/frequencies.ts'
import { fineLengthText, lengthText, nearLengthText } from '../../words/lengths.ts'
import { sonesText, timesAsLoud } from '../../words/loudness.ts'

/** A level difference as 'stronger' or 'weaker': '3 dB stronger than', 'as strong as'. */
export function strongerWords(differenceDb: number): string {
  const rounded = Math.round(differenceDb)
  if (rounded === 0) return 'as strong as'
  return `${Math.abs(rounded)} dB ${rounded > 0 ? 'stronger' : 'weaker'} than`
}

/** What the wall does in front, and what there is between box and wall. */
export function wallSentence(answer: WallAnswer, question: WallQuestion, units: LengthUnit): string {
  return `${frontWords(answer, question, units)} ${rearWords(answer, question, units)}`
}

function frontWords({ dip, rise }: WallAnswer, { surroundings: { gapM } }: WallQuestion, units: LengthUnit): string {
  const wall = `The wall ${nearLengthText(gapM, units)} behind the back`
  const cut = dip && `cuts ${dipFrequencyText(dip.frequencyHz)} by ${Math.round(-dip.changeDb)} dB`
  const lift = rise && `lifts ${dipFrequencyText(rise.frequencyHz)} by ${Math.round(rise.changeDb)} dB`
  if (cut && lift) return `${wall} ${cut} in front and ${lift}.`
  if (cut ?? lift) return `${wall} ${cut ?? lift} in front.`
  return `${wall} changes the front by less than 1 dB from ${wallChartHz.min} to ${wallChartHz.max} Hz.`
}

function rearWords({ rearBassDb, pathDb }: WallAnswer, { fromWallM, frontM }: WallQuestion, units: LengthUnit): string {
  const place = `Between box and wall, ${nearLengthText(fromWallM, units)} off the wall,`
  const bass = `bass is ${strongerWords(rearBassDb)} ${lengthText(frontM, units)} in front`
  if (Math.round(pathDb) === 0) return `${place} ${bass}, and both are equally far from the front face.`
  return `${place} ${bass}; by distance alone it would be ${strongerWords(pathDb).replace(/ (than|as)$/, '')}.`
}

/** Where the rule lands, and where the computed dip is. */
export function ruleSentence(answer: WallAnswer, units: LengthUnit): string {
  const { thereAndBackM, ruleDipsHz, ruleRisesHz, dip, seemsFartherM } = answer
  const [halfHz, wholeHz] = [ruleDipsHz[0], ruleRisesHz[0]]
  if (halfHz === undefined) return ''
  const whole = wholeHz === undefined ? '' : `, a whole wave at ${dipFrequencyText(wholeHz)}`
  const rule = `From the front face to the wall and back is ${nearLengthText(thereAndBackM, units)}: half a wave fits in at ${dipFrequencyText(halfHz)}${whole}.`
  if (!dip || seemsFartherM === null) return `${rule} Computed, nothing dips by 1 dB or more.`
  const fartherM = Math.round(20 * seemsFartherM) / 20
  const seems =
    fartherM === 0
      ? ''
      : `, as if the wall were ${fineLengthText(Math.abs(fartherM), units)} ${fartherM > 0 ? 'farther away' : 'nearer'}`
  return `${rule} Computed, the lowest dip from ${wallChartHz.min} Hz up is at ${dipFrequencyText(dip.frequencyHz)}${seems}.`
}

/** How two trains meet, by what part of a wave the later one is late. */
export function stepWords(lateWaves: number): 'in step' | 'out of step' | 'neither in step nor out of step' {
  const part = lateWaves - Math.floor(lateWaves)
  if (Math.abs(part - 0.5) <= 0.125) return 'out of step'
  return part <= 0.125 || part >= 0.875 ? 'in step' : 'neither in step nor out of step'
}

/** What happens at the frequency that is looked at. */
export function trainSentence({ lateS, lateWaves, changeDb }: WaveTrains, frequencyHz: number): string {
  const change = Math.round(changeDb)
  const does = change === 0 ? 'changes nothing there' : change > 0 ? `adds ${change} dB` : `takes ${-change} dB away`
  const waves = Number(lateWaves.toFixed(1))
  return `At ${frequencyText(frequencyHz)} the wall’s sound is ${Math.round(1000 * lateS)} ms late, ${waves} ${waves === 1 ? 'wave' : 'waves'}: ${stepWords(lateWaves)}. It ${does}.`
}

/** What the wall does to the loudness of the bass in front, and the share behind. */
export function wallLoudnessSentence(heard: NonNullable<WallAnswer['heard']>): string {
  const { front, frontFree, rear } = heard
  if (front.bassSones === 0 || frontFree.bassSones === 0) return 'At this level the bass in front cannot be heard.'
  const before = `In front, the wall brings the bass from ${sonesText(frontFree.bassSones)} to ${sonesText(front.bassSones)} sones.`
  return `${before} Between box and wall, bass is ${timesAsLoud(rear.bassSones / front.bassSones)} in front.`
}

/** What was not enough room for the place behind, or ''. */
export function clampNotice(wantedM: number, gapM: number, units: LengthUnit): string {
  if (wantedM <= gapM) return ''
  return `Only ${nearLengthText(gapM, units)} are left between box and wall: the place there stops at the back of the box.`
}
