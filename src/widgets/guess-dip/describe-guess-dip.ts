import type { WallGuess } from '../../engine/questions/wall/wall-guess.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { dipFrequencyText } from '../../words/frequencies.ts'
import { lengthText } from '../../words/lengths.ts'
import * as say from './guess-dip.messages.ts'

/** What the guess is held against. */
export type GuessedWall = Omit<WallGuess, 'changesDb'>

/** So near to a frequency, in octaves, counts as a hit. */
const hitOctaves = 1 / 8

const hits = (guessHz: number, ...frequenciesHz: number[]) =>
  frequenciesHz.some((frequencyHz) => Math.abs(Math.log2(guessHz / frequencyHz)) <= hitOctaves)

/** What the wall does to a frequency in front: 'adds 3 dB', 'takes 2 dB', 'changes nothing'. */
export function changeWords(changeDb: number): string {
  const change = Math.round(changeDb)
  return say.change({
    does: change === 0 ? 'nothing' : change > 0 ? 'adds' : 'takes',
    decibels: Math.abs(change),
  })
}

/** How the guess lay; who marked the whole wave hears what the slip is. */
export function guessDipVerdict(guessHz: number, changeDb: number, wall: GuessedWall, units: LengthUnit): string {
  const { thereAndBackM, ruleDipHz, ruleRiseHz, ruleSecondDipHz, dip, secondDip } = wall
  const distance = lengthText(thereAndBackM, units)
  const answer = say.answer({ dip: dipFrequencyText(dip.frequencyHz), rule: dipFrequencyText(ruleDipHz) })
  const there = say.there({ frequency: dipFrequencyText(guessHz), change: changeWords(changeDb) })
  if (hits(guessHz, ruleDipHz, dip.frequencyHz)) return `${say.right()} ${there} ${say.halfFits({ distance })}`
  if (hits(guessHz, ruleRiseHz))
    return `${say.slip({ frequency: dipFrequencyText(ruleRiseHz), distance })} ${there} ${answer}`
  if (hits(guessHz, ruleSecondDipHz, secondDip.frequencyHz)) return `${say.secondDip()} ${there} ${answer}`
  return `${there} ${answer}`
}
