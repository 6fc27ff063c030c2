import { tallAndThinQuestions } from '../../../engine/questions/check/tall-and-thin.ts'
import { questionsWithWords } from '../check-words.ts'
import * as say from './tall-and-thin.messages.ts'

export const asked = questionsWithWords(tallAndThinQuestions, {
  behind: {
    ask: say.behind,
    choices: {
      nearly: [say.behindNearly, say.behindNearlyWhy],
      half: [say.behindHalf, say.behindHalfWhy],
      silent: [say.behindSilent, say.behindSilentWhy],
    },
  },
  oneWave: { ask: say.oneWave, worked: say.oneWaveWorked },
  sideways: {
    ask: say.sideways,
    choices: {
      wide: [say.sidewaysWide, say.sidewaysWideWhy],
      narrow: [say.sidewaysNarrow, say.sidewaysNarrowWhy],
      nothing: [say.sidewaysNothing, say.sidewaysNothingWhy],
    },
  },
  waves: { ask: say.waves, worked: say.wavesWorked },
  choosing: {
    ask: say.choosing,
    choices: {
      late: [say.choosingLate, say.choosingLateWhy],
      strong: [say.choosingStrong, say.choosingStrongWhy],
      box: [say.choosingBox, say.choosingBoxWhy],
    },
  },
  further: { ask: say.further, worked: say.furtherWorked },
  chair: {
    ask: say.chair,
    choices: {
      lean: [say.chairLean, say.chairLeanWhy],
      treble: [say.chairTreble, say.chairTrebleWhy],
      sub: [say.chairSub, say.chairSubWhy],
    },
  },
  firstNull: { ask: say.firstNull, worked: say.firstNullWorked },
})
