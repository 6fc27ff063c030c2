import type { WallGuess } from '../../engine/questions/wall/wall-guess.ts'
import { dipFrequencyText } from '../../words/frequencies.ts'
import { lengthText } from '../../words/lengths.ts'

/** What the guess is held against. */
export type GuessedWall = Omit<WallGuess, 'changesDb'>

/** So near to a frequency, in octaves, counts as a hit. */
const hitOctaves = 1 / 8

const hits = (guessHz: number, ...frequenciesHz: number[]) =>
  frequenciesHz.some((frequencyHz) => Math.abs(Math.log2(guessHz / frequencyHz)) <= hitOctaves)

/** What the wall does to a frequency in front: 'adds 3 dB', 'takes 2 dB', 'changes nothing'. */
export function changeWords(changeDb: number): string {
  const change = Math.round(changeDb)
  if (change === 0) return 'changes nothing'
  return change > 0 ? `adds ${change} dB` : `takes ${-change} dB`
}

/** How the guess lay; who marked the whole wave hears what the slip is. */
export function guessDipVerdict(guessHz: number, changeDb: number, wall: GuessedWall): string {
  const { thereAndBackM, ruleDipHz, ruleRiseHz, ruleSecondDipHz, dip, secondDip } = wall
  const path = `16 ft (${lengthText(thereAndBackM, 'm')})`
  const answer = `The lowest dip is at ${dipFrequencyText(dip.frequencyHz)}: half a wave there and back by the rule (${dipFrequencyText(ruleDipHz)}), a little lower with this box.`
  const there = `At ${dipFrequencyText(guessHz)} the wall ${changeWords(changeDb)} in front.`
  if (hits(guessHz, ruleDipHz, dip.frequencyHz)) return `Right. ${there} Half a wave fits into ${path}.`
  if (hits(guessHz, ruleRiseHz)) {
    return `This is the common slip. A whole wave of ${dipFrequencyText(ruleRiseHz)} fits into ${path}, so the wall’s sound comes back in step. ${there} ${answer}`
  }
  if (hits(guessHz, ruleSecondDipHz, secondDip.frequencyHz)) {
    return `A dip too, but the second one: one and a half waves there and back. ${there} ${answer}`
  }
  return `${there} ${answer}`
}
