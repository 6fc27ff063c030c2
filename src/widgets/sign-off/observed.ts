import * as say from './sign-off.messages.ts'

/** What a crew lead looks at in the hall, after the lessons' "Do": in the order of the course. */
export const observed: readonly { lesson: string; words: () => string }[] = [
  { lesson: 'walk-round-the-back', words: say.walk },
  { lesson: 'small-box-long-wave', words: say.front },
  { lesson: 'what-a-horn-holds', words: say.horn },
  { lesson: 'tall-and-thin', words: say.axis },
  { lesson: 'what-your-ear-makes-of-it', words: say.ask },
  { lesson: 'the-wall-joins-in', words: say.wall },
  { lesson: 'the-wall-joins-in', words: say.dip },
  { lesson: 'the-hall-fills-the-rest', words: say.table },
  { lesson: 'bass-that-takes-sides', words: say.pair },
  { lesson: 'prove-it-with-two-microphones', words: say.proof },
  { lesson: 'decide-and-set-up', words: say.decide },
]

/** What goes with every one of them, after the lessons' cautions. */
export const observedSafety: readonly (() => string)[] = [say.noise, say.lift, say.ways, say.leave]
