import { hallFillsQuestions } from '../../../engine/questions/check/hall-fills.ts'
import { questionsWithWords } from '../check-words.ts'
import * as say from './hall-fills.messages.ts'

export const asked = questionsWithWords(hallFillsQuestions, {
  treble: {
    ask: say.treble,
    choices: {
      part: [say.treblePart, say.treblePartWhy],
      none: [say.trebleNone, say.trebleNoneWhy],
      all: [say.trebleAll, say.trebleAllWhy],
    },
  },
  resonance: { ask: say.resonance, worked: say.resonanceWorked },
  corner: {
    ask: say.corner,
    choices: {
      away: [say.cornerAway, say.cornerAwayWhy],
      corner: [say.cornerCorner, say.cornerCornerWhy],
      wall: [say.cornerWall, say.cornerWallWhy],
    },
  },
  critical: { ask: say.critical, worked: say.criticalWorked },
  people: {
    ask: say.people,
    choices: {
      leave: [say.peopleLeave, say.peopleLeaveWhy],
      down: [say.peopleDown, say.peopleDownWhy],
      bass: [say.peopleBass, say.peopleBassWhy],
    },
  },
  softer: { ask: say.softer, worked: say.softerWorked },
  curtain: {
    ask: say.curtain,
    choices: {
      treble: [say.curtainTreble, say.curtainTrebleWhy],
      bass: [say.curtainBass, say.curtainBassWhy],
      both: [say.curtainBoth, say.curtainBothWhy],
    },
  },
  rings: { ask: say.rings, worked: say.ringsWorked },
})
