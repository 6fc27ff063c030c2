import { walkRoundQuestions } from '../../../engine/questions/check/walk-round.ts'
import { questionsWithWords } from '../check-words.ts'
import * as say from './walk-round.messages.ts'

export const asked = questionsWithWords(walkRoundQuestions, {
  rear: {
    ask: say.rear,
    choices: {
      more: [say.rearMore, say.rearMoreWhy],
      little: [say.rearLittle, say.rearLittleWhy],
      gone: [say.rearGone, say.rearGoneWhy],
    },
  },
  wave: { ask: say.wave, worked: say.waveWorked },
  matched: {
    ask: say.matched,
    choices: {
      turned: [say.matchedTurned, say.matchedTurnedWhy],
      share: [say.matchedShare, say.matchedShareWhy],
      deaf: [say.matchedDeaf, say.matchedDeafWhy],
    },
  },
  power: { ask: say.power, worked: say.powerWorked },
  round: {
    ask: say.round,
    choices: {
      long: [say.roundLong, say.roundLongWhy],
      strong: [say.roundStrong, say.roundStrongWhy],
      port: [say.roundPort, say.roundPortWhy],
    },
  },
  path: { ask: say.path, worked: say.pathWorked },
  tape: {
    ask: say.tape,
    choices: {
      from: [say.tapeFrom, say.tapeFromWhy],
      microphone: [say.tapeMicrophone, say.tapeMicrophoneWhy],
      louder: [say.tapeLouder, say.tapeLouderWhy],
    },
  },
  farther: { ask: say.farther, worked: say.fartherWorked },
})
