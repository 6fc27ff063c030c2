import { allowedExposureH, venueLimitDbA } from '../../acoustics/hearing/exposure.ts'
import { exposureAt } from '../../engine/scene/exposure-at.ts'
import type { Heard } from '../../engine/scene/heard.ts'
import { sonesText, timesAsLoud } from '../../words/loudness.ts'
import { percentText } from '../../words/numbers.ts'
import { durationText } from '../../words/times.ts'
import * as say from './heard.messages.ts'

/** One row of the table of what is heard. */
export type HeardRow = { name: string; here: string; front: string }

/** What the ear makes of two places, row by row. */
export function heardRows({ here, front }: { here: Heard; front: Heard }): HeardRow[] {
  const row = (name: string, text: (heard: Heard) => string): HeardRow => ({
    name,
    here: text(here),
    front: text(front),
  })
  return [
    row(say.rowLoudness(), ({ sones }) => sonesText(sones)),
    row(say.rowBass(), ({ bassSones }) => sonesText(bassSones)),
    row(say.rowBassShare(), ({ bassShare }) => percentText(bassShare)),
    row(say.rowLoudnessLevel(), ({ phons }) => String(Math.round(phons))),
    row(say.rowLevelA(), ({ aWeightedDb }) => String(Math.round(aWeightedDb))),
    row(say.rowLevelC(), ({ cWeightedDb }) => String(Math.round(cWeightedDb))),
  ]
}

/** Both loudnesses against the front's in one sentence. */
export function loudnessSentence({ here, front }: { here: Heard; front: Heard }): string {
  if (here.sones === 0 || front.sones === 0 || front.bassSones === 0) return say.oneInaudible()
  const whole = timesAsLoud(here.sones / front.sones)
  const bass = timesAsLoud(here.bassSones / front.bassSones)
  return say.bothLoudnesses({ whole, bass })
}

/** What the levels at both places mean for hearing: the longest time a day at work at each, and the limit of the venue standard. */
export function exposureSentence({ here, front }: { here: Heard; front: Heard }, hereLabel: string): string {
  return placeSentences([
    { place: hereLabel, ...exposureAt(here) },
    { place: say.inFront(), ...exposureAt(front) },
  ])
}

/** The same for the level that is set, where nothing is known of other places. */
export const setLevelSentence = (levelDbA: number, distance: string): string =>
  placeSentences([{ place: say.setFlat({ distance }), levelDbA, hours: allowedExposureH(levelDbA) }])

function placeSentences(places: { place: string; levelDbA: number; hours: number }[]): string {
  const atWork = places.map(({ place, levelDbA: level, hours }) =>
    hours >= 24 ? say.belowLimit({ level, place }) : say.stayNoLonger({ level, place, time: durationText(hours) }),
  )
  const tooLoud = places.some(({ levelDbA }) => levelDbA > venueLimitDbA)
  return [...atWork, ...(tooLoud ? [say.venueLimit({ limit: venueLimitDbA })] : [])].join(' ')
}
