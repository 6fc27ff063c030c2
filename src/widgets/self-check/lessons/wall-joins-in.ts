import { wallJoinsInQuestions } from '../../../engine/questions/check/wall-joins-in.ts'
import { questionsWithWords } from '../check-words.ts'
import * as say from './wall-joins-in.messages.ts'

export const asked = questionsWithWords(wallJoinsInQuestions, {
  wholeWave: {
    ask: say.wholeWave,
    choices: {
      adds: [say.wholeWaveAdds, say.wholeWaveAddsWhy],
      cancels: [say.wholeWaveCancels, say.wholeWaveCancelsWhy],
      nothing: [say.wholeWaveNothing, say.wholeWaveNothingWhy],
    },
  },
  firstDip: { ask: say.firstDip, worked: say.firstDipWorked },
  moreBehind: {
    ask: say.moreBehind,
    choices: {
      canBe: [say.moreBehindCanBe, say.moreBehindCanBeWhy],
      never: [say.moreBehindNever, say.moreBehindNeverWhy],
      turned: [say.moreBehindTurned, say.moreBehindTurnedWhy],
    },
  },
  firstRise: { ask: say.firstRise, worked: say.firstRiseWorked },
  equaliser: {
    ask: say.equaliser,
    choices: {
      fill: [say.equaliserFill, say.equaliserFillWhy],
      move: [say.equaliserMove, say.equaliserMoveWhy],
      neighbours: [say.equaliserNeighbours, say.equaliserNeighboursWhy],
    },
  },
  closeEnough: { ask: say.closeEnough, worked: say.closeEnoughWorked },
  curtain: {
    ask: say.curtain,
    choices: {
      gone: [say.curtainGone, say.curtainGoneWhy],
      little: [say.curtainLittle, say.curtainLittleWhy],
      moved: [say.curtainMoved, say.curtainMovedWhy],
    },
  },
  deep: { ask: say.deep, worked: say.deepWorked },
})
