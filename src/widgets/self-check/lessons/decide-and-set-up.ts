import { decideAndSetUpQuestions } from '../../../engine/questions/check/decide-and-set-up.ts'
import { questionsWithWords } from '../check-words.ts'
import * as say from './decide-and-set-up.messages.ts'

export const asked = questionsWithWords(decideAndSetUpQuestions, {
  first: {
    ask: say.first,
    choices: {
      who: [say.firstWho, say.firstWhoWhy],
      subs: [say.firstSubs, say.firstSubsWhy],
      level: [say.firstLevel, say.firstLevelWhy],
    },
  },
  turnedDown: { ask: say.turnedDown, worked: say.turnedDownWorked },
  trade: {
    ask: say.trade,
    choices: {
      nothing: [say.tradeNothing, say.tradeNothingWhy],
      steering: [say.tradeSteering, say.tradeSteeringWhy],
      good: [say.tradeGood, say.tradeGoodWhy],
    },
  },
  cancels: { ask: say.cancels, worked: say.cancelsWorked },
  estimate: {
    ask: say.estimate,
    choices: {
      room: [say.estimateRoom, say.estimateRoomWhy],
      fine: [say.estimateFine, say.estimateFineWhy],
      law: [say.estimateLaw, say.estimateLawWhy],
    },
  },
  without: { ask: say.without, worked: say.withoutWorked },
  differs: {
    ask: say.differs,
    choices: {
      look: [say.differsLook, say.differsLookWhy],
      trust: [say.differsTrust, say.differsTrustWhy],
      equalise: [say.differsEqualise, say.differsEqualiseWhy],
    },
  },
  away: { ask: say.away, worked: say.awayWorked },
})
