import type { Heard } from '../../engine/scene/heard.ts'
import { placeWord } from '../../words/directions.ts'
import { sonesText } from '../../words/loudness.ts'
import { percentText } from '../../words/numbers.ts'
import { oneInaudible } from '../heard/heard.messages.ts'
import * as say from './loudness-stack.messages.ts'

type HeardPair = { here: Heard; front: Heard }

/** The listener's place for labels on lines: the case of a message. */
export type HereWord = 'here' | 'beside' | 'behind'
export const hereWord = (angleDeg: number): HereWord =>
  (({ front: 'here', side: 'beside', behind: 'behind' }) as const)[placeWord(angleDeg)]

/** What an area of the picture amounts to: 'behind 34 sones, bass 25 %'. */
export const areaText = (place: HereWord | 'front', { sones, bassShare }: Heard): string =>
  say.area({ place, sones: sonesText(sones), share: percentText(bassShare) })

/** The same as a share of the whole: 'behind, bass 25 %'. */
export const shareText = (place: HereWord | 'front', { bassShare }: Heard): string =>
  say.share({ place, share: percentText(bassShare) })

/** Share and amount of the bass here and in front, and what follows from the two. */
export function stackSentence({ here, front }: HeardPair, angleDeg: number): string {
  if (here.sones === 0 || front.sones === 0) return oneInaudible()
  const [hereShare, frontShare] = [percentText(here.bassShare), percentText(front.bassShare)]
  const [hereSones, frontSones] = [sonesText(here.bassSones), sonesText(front.bassSones)]
  return say.shareAndAmount({
    place: hereWord(angleDeg),
    hereShare,
    frontShare,
    sameShare: hereShare === frontShare,
    hereSones,
    frontSones,
    sameSones: hereSones === frontSones,
    conclusion: conclusion({ here, front }),
  })
}

/** Whether what a figure is headed with is so: behind, and of what is left there more is bass, though no more bass. */
export const isTitled = (pair: HeardPair, angleDeg: number): boolean =>
  hereWord(angleDeg) === 'behind' && conclusion(pair) === 'notMoreButMoreOfLeft'

type Conclusion = Parameters<typeof say.shareAndAmount>[0]['conclusion']

/** What share and amount together mean; nothing where both are the same. */
function conclusion({ here, front }: HeardPair): Conclusion {
  const amount = compared(here.bassSones, front.bassSones, 0.05)
  const share = compared(100 * here.bassShare, 100 * front.bassShare, 0.05)
  const ofLeft = compared(here.sones, front.sones, 0.05) === 'less'
  if (share === 'more' && amount === 'more') return ofLeft ? 'moreAndMoreOfLeft' : 'moreAndMoreOfWhole'
  if (share === 'more') return ofLeft ? 'notMoreButMoreOfLeft' : 'notMoreButMoreOfWhole'
  if (share === 'less') return amount === 'more' ? 'moreButLessOfWhole' : 'lessOfWhole'
  if (amount === 'same') return 'none'
  return amount === 'more' ? 'moreOfAll' : 'lessOfAll'
}

/** Whether a value is more than another, less, or the same within a part of it. */
function compared(value: number, other: number, within: number): 'more' | 'same' | 'less' {
  if (Math.abs(value - other) <= within * other) return 'same'
  return value > other ? 'more' : 'less'
}
