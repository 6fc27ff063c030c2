import { twoMicrophonesQuestions } from '../../../engine/questions/check/two-microphones.ts'
import { questionsWithWords } from '../check-words.ts'
import * as say from './two-microphones.messages.ts'

export const asked = questionsWithWords(twoMicrophonesQuestions, {
  first: {
    ask: say.first,
    choices: {
      match: [say.firstMatch, say.firstMatchWhy],
      gains: [say.firstGains, say.firstGainsWhy],
      odd: [say.firstOdd, say.firstOddWhy],
    },
  },
  holes: { ask: say.holes, worked: say.holesWorked },
  talk: {
    ask: say.talk,
    choices: {
      again: [say.talkAgain, say.talkAgainWhy],
      average: [say.talkAverage, say.talkAverageWhy],
      cancels: [say.talkCancels, say.talkCancelsWhy],
    },
  },
  averagedIn: { ask: say.averagedIn, worked: say.averagedInWorked },
  afterwards: {
    ask: say.afterwards,
    choices: {
      wall: [say.afterwardsWall, say.afterwardsWallWhy],
      microphone: [say.afterwardsMicrophone, say.afterwardsMicrophoneWhy],
      volume: [say.afterwardsVolume, say.afterwardsVolumeWhy],
      meter: [say.afterwardsMeter, say.afterwardsMeterWhy],
    },
  },
  lifted: { ask: say.lifted, worked: say.liftedWorked },
  volume: {
    ask: say.volume,
    choices: {
      repeat: [say.volumeRepeat, say.volumeRepeatWhy],
      listen: [say.volumeListen, say.volumeListenWhy],
      bend: [say.volumeBend, say.volumeBendWhy],
    },
  },
  sends: { ask: say.sends, worked: say.sendsWorked },
})
