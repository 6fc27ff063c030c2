import { microphoneUnreachedHz } from '../../acoustics/index.ts'
import { aboutFrequencyText, frequencyText } from '../../words/frequencies.ts'
import { listText } from '../../words/numbers.ts'
import type { KeptMicrophone, KeptTest, PlaceName } from './kept-test.ts'
import * as say from './microphone.messages.ts'

// Which microphone was corrected by its file, and how far that reaches.

const places: PlaceName[] = ['front', 'behind']

const told = (place: PlaceName, { name, frequenciesHz }: KeptMicrophone) => ({
  place,
  name,
  from: aboutFrequencyText(frequenciesHz[0] ?? 0, 3),
  to: aboutFrequencyText(frequenciesHz.at(-1) ?? 0, 3),
})

/** The files that there are, in front first. */
export const filesThere = (microphones: KeptTest['microphones']): { place: PlaceName; words: string }[] =>
  places.flatMap((place) => {
    const kept = microphones[place]
    return kept ? [{ place, words: say.there(told(place, kept)) }] : []
  })

/** For the report: a sentence for each microphone that was corrected, and one for the bands that its file does not reach. */
export const correctedWords = (microphones: KeptTest['microphones']): string[] =>
  places.flatMap((place) => {
    const kept = microphones[place]
    if (!kept) return []
    const unreached = microphoneUnreachedHz(kept)
    const reach =
      unreached.length === 0
        ? say.allReached()
        : say.unreached({ bands: listText(unreached.map((nominalHz) => frequencyText(nominalHz))) })
    return [`${say.corrected(told(place, kept))} ${reach}`]
  })
