import { smallBoxQuestions } from '../../../engine/questions/check/small-box.ts'
import { questionsWithWords } from '../check-words.ts'
import * as say from './small-box.messages.ts'

export const asked = questionsWithWords(smallBoxQuestions, {
  low: {
    ask: say.low,
    choices: {
      nearly: [say.lowNearly, say.lowNearlyWhy],
      half: [say.lowHalf, say.lowHalfWhy],
      silent: [say.lowSilent, say.lowSilentWhy],
    },
  },
  asLong: { ask: say.asLong, worked: say.asLongWorked },
  gradual: {
    ask: say.gradual,
    choices: {
      atWidth: [say.gradualAtWidth, say.gradualAtWidthWhy],
      slowly: [say.gradualSlowly, say.gradualSlowlyWhy],
      atKa: [say.gradualAtKa, say.gradualAtKaWhy],
      never: [say.gradualNever, say.gradualNeverWhy],
    },
  },
  waves: { ask: say.waves, worked: say.wavesWorked },
  gain: {
    ask: say.gain,
    choices: {
      wall: [say.gainWall, say.gainWallWhy],
      amplifier: [say.gainAmplifier, say.gainAmplifierWhy],
      aim: [say.gainAim, say.gainAimWhy],
    },
  },
  begins: { ask: say.begins, worked: say.beginsWorked },
  turn: {
    ask: say.turn,
    choices: {
      little: [say.turnLittle, say.turnLittleWhy],
      half: [say.turnHalf, say.turnHalfWhy],
      side: [say.turnSide, say.turnSideWhy],
    },
  },
  trap: { ask: say.trap, worked: say.trapWorked },
})
