import { hornHoldsQuestions } from '../../../engine/questions/check/horn-holds.ts'
import { questionsWithWords } from '../check-words.ts'
import * as say from './horn-holds.messages.ts'

export const asked = questionsWithWords(hornHoldsQuestions, {
  label: {
    ask: say.label,
    choices: {
      above: [say.labelAbove, say.labelAboveWhy],
      everywhere: [say.labelEverywhere, say.labelEverywhereWhy],
      bass: [say.labelBass, say.labelBassWhy],
    },
  },
  letsGo: { ask: say.letsGo, worked: say.letsGoWorked },
  twice: {
    ask: say.twice,
    choices: {
      lower: [say.twiceLower, say.twiceLowerWhy],
      narrower: [say.twiceNarrower, say.twiceNarrowerWhy],
      higher: [say.twiceHigher, say.twiceHigherWhy],
    },
  },
  across: { ask: say.across, worked: say.acrossWorked },
  bassHorn: {
    ask: say.bassHorn,
    choices: {
      size: [say.bassHornSize, say.bassHornSizeWhy],
      walls: [say.bassHornWalls, say.bassHornWallsWhy],
      power: [say.bassHornPower, say.bassHornPowerWhy],
    },
  },
  mouthFor: { ask: say.mouthFor, worked: say.mouthForWorked },
  waist: {
    ask: say.waist,
    choices: {
      narrower: [say.waistNarrower, say.waistNarrowerWhy],
      exact: [say.waistExact, say.waistExactWhy],
      round: [say.waistRound, say.waistRoundWhy],
    },
  },
  edges: { ask: say.edges, worked: say.edgesWorked },
})
