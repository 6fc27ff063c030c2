import type { CheckQuestions } from './check-terms.ts'
import { decideAndSetUpQuestions } from './decide-and-set-up.ts'
import { earMakesOfItQuestions } from './ear-makes-of-it.ts'
import { hallFillsQuestions } from './hall-fills.ts'
import { hornHoldsQuestions } from './horn-holds.ts'
import { smallBoxQuestions } from './small-box.ts'
import { takesSidesQuestions } from './takes-sides.ts'
import { tallAndThinQuestions } from './tall-and-thin.ts'
import { twoMicrophonesQuestions } from './two-microphones.ts'
import { walkRoundQuestions } from './walk-round.ts'
import { wallJoinsInQuestions } from './wall-joins-in.ts'

/** All questions by lesson, for the build and the tests; a page in the browser fetches those of its own lesson. */
export const lessonQuestions: Readonly<Record<string, CheckQuestions>> = {
  'walk-round-the-back': walkRoundQuestions,
  'small-box-long-wave': smallBoxQuestions,
  'what-a-horn-holds': hornHoldsQuestions,
  'tall-and-thin': tallAndThinQuestions,
  'what-your-ear-makes-of-it': earMakesOfItQuestions,
  'the-wall-joins-in': wallJoinsInQuestions,
  'the-hall-fills-the-rest': hallFillsQuestions,
  'bass-that-takes-sides': takesSidesQuestions,
  'prove-it-with-two-microphones': twoMicrophonesQuestions,
  'decide-and-set-up': decideAndSetUpQuestions,
}

/** About how long a question takes: a minute for a sum, half of one for a choice. Our own guess (common practice, no source). */
const minutesOf = { computed: 1, judgement: 0.5 } as const

/** About how long a check takes. */
export const checkMinutes = (questions: CheckQuestions): number =>
  Math.round(Object.values(questions).reduce((minutes, { kind }) => minutes + minutesOf[kind], 0))

/** About how long the final check takes: one of each kind from each lesson. */
export const finalMinutes = Math.round(Object.keys(lessonQuestions).length * (minutesOf.computed + minutesOf.judgement))
