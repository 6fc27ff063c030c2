import { takesSidesQuestions } from '../../../engine/questions/check/takes-sides.ts'
import { questionsWithWords } from '../check-words.ts'
import * as say from './takes-sides.messages.ts'

export const asked = questionsWithWords(takesSidesQuestions, {
  turn: {
    ask: say.turn,
    choices: {
      little: [say.turnLittle, say.turnLittleWhy],
      behind: [say.turnBehind, say.turnBehindWhy],
      double: [say.turnDouble, say.turnDoubleWhy],
    },
  },
  delay: { ask: say.delay, worked: say.delayWorked },
  polarity: {
    ask: say.polarity,
    choices: {
      backwards: [say.polarityBackwards, say.polarityBackwardsWhy],
      weaker: [say.polarityWeaker, say.polarityWeakerWhy],
      nothing: [say.polarityNothing, say.polarityNothingWhy],
    },
  },
  quarter: { ask: say.quarter, worked: say.quarterWorked },
  silence: {
    ask: say.silence,
    choices: {
      half: [say.silenceHalf, say.silenceHalfWhy],
      higher: [say.silenceHigher, say.silenceHigherWhy],
      all: [say.silenceAll, say.silenceAllWhy],
    },
  },
  loss: { ask: say.loss, worked: say.lossWorked },
  table: {
    ask: say.table,
    choices: {
      move: [say.tableMove, say.tableMoveWhy],
      more: [say.tableMore, say.tableMoreWhy],
      level: [say.tableLevel, say.tableLevelWhy],
    },
  },
  together: { ask: say.together, worked: say.togetherWorked },
})
