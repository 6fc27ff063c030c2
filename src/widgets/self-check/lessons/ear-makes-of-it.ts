import { earMakesOfItQuestions } from '../../../engine/questions/check/ear-makes-of-it.ts'
import { questionsWithWords } from '../check-words.ts'
import * as say from './ear-makes-of-it.messages.ts'

export const asked = questionsWithWords(earMakesOfItQuestions, {
  tenDown: {
    ask: say.tenDown,
    choices: {
      low: [say.tenDownLow, say.tenDownLowWhy],
      high: [say.tenDownHigh, say.tenDownHighWhy],
      same: [say.tenDownSame, say.tenDownSameWhy],
    },
  },
  louder: { ask: say.louder, worked: say.louderWorked },
  covers: {
    ask: say.covers,
    choices: {
      covered: [say.coversCovered, say.coversCoveredWhy],
      share: [say.coversShare, say.coversShareWhy],
      boosted: [say.coversBoosted, say.coversBoostedWhy],
    },
  },
  share: { ask: say.share, worked: say.shareWorked },
  knob: {
    ask: say.knob,
    choices: {
      cut: [say.knobCut, say.knobCutWhy],
      walk: [say.knobWalk, say.knobWalkWhy],
      louder: [say.knobLouder, say.knobLouderWhy],
    },
  },
  tone: { ask: say.tone, worked: say.toneWorked },
  compare: {
    ask: say.compare,
    choices: {
      loudness: [say.compareLoudness, say.compareLoudnessWhy],
      loudest: [say.compareLoudest, say.compareLoudestWhy],
      meter: [say.compareMeter, say.compareMeterWhy],
    },
  },
  stay: { ask: say.stay, worked: say.stayWorked },
})
