import type { Heard } from '../../engine/scene/heard.ts'
import { placeWord } from '../../words/directions.ts'
import { sonesText } from '../../words/loudness.ts'
import { percentText } from '../../words/numbers.ts'

type HeardPair = { here: Heard; front: Heard }

/** One word for the listener's place, for labels on lines. */
export const hereWord = (angleDeg: number): 'here' | 'beside' | 'behind' =>
  (({ front: 'here', side: 'beside', behind: 'behind' }) as const)[placeWord(angleDeg)]

/** What an area of the picture amounts to: 'behind 34 sones, bass 25 %'. */
export const areaText = (place: string, { sones, bassShare }: Heard): string =>
  `${place} ${sonesText(sones)} sones, bass ${percentText(bassShare)}`

/** The same as a share of the whole: 'behind, bass 25 %'. */
export const shareText = (place: string, { bassShare }: Heard): string => `${place}, bass ${percentText(bassShare)}`

/** Share and amount of the bass here and in front, and what follows from the two. */
export function stackSentence({ here, front }: HeardPair, angleDeg: number): string {
  if (here.sones === 0 || front.sones === 0) return 'At this level one of the two cannot be heard.'
  const place = { here: 'Here', beside: 'Beside', behind: 'Behind' }[hereWord(angleDeg)]
  const word = place.toLowerCase()
  const [hereShare, frontShare] = [percentText(here.bassShare), percentText(front.bassShare)]
  const [hereSones, frontSones] = [sonesText(here.bassSones), sonesText(front.bassSones)]
  const shares =
    hereShare === frontShare
      ? `${place} the bass makes ${hereShare} of the loudness, as in front`
      : `${place} the bass makes ${hereShare} of the loudness, in front ${frontShare}`
  const amounts =
    hereSones === frontSones
      ? `its own loudness is ${hereSones} sones in both places`
      : `its own loudness is ${hereSones} sones ${word}, ${frontSones} in front`
  return `${shares}; ${amounts}${conclusion({ here, front })}.`
}

/** What share and amount together mean; nothing where both are the same. */
function conclusion({ here, front }: HeardPair): string {
  const amount = compared(here.bassSones, front.bassSones, 0.05)
  const share = compared(100 * here.bassShare, 100 * front.bassShare, 0.05)
  const whole = compared(here.sones, front.sones, 0.05)
  if (share === 'more') {
    const of = whole === 'less' ? 'more of what is left' : 'more of the whole'
    return amount === 'more' ? `: more bass, and ${of}` : `: not more bass, but ${of}`
  }
  if (share === 'less') return amount === 'more' ? ': more bass, but less of the whole' : ': less of the whole'
  if (amount === 'same') return ''
  return amount === 'more' ? ': more bass, and more of all the rest' : ': less bass, and as much less of all the rest'
}

/** Whether a value is more than another, less, or the same within a part of it. */
function compared(value: number, other: number, within: number): 'more' | 'same' | 'less' {
  if (Math.abs(value - other) <= within * other) return 'same'
  return value > other ? 'more' : 'less'
}
