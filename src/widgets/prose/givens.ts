import { bassShareUpToHz } from '../../acoustics/index.ts'
import { usualAir } from '../../engine/scene/air.ts'
import { earHeightM } from '../../engine/scene/scene-terms.ts'
import { bassHz, trebleHz } from '../../engine/scene/third-octaves.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { temperatureText } from '../../words/air.ts'
import { frequencyRangeText, frequencyText } from '../../words/frequencies.ts'
import { lengthText } from '../../words/lengths.ts'
import { nearestTo } from './unknown-fact.ts'

/** What holds on the whole site because it is set, not computed, as prose writes it: changed where it is set, it changes in every sentence. */
const givens = {
  /** The third octaves that the sentences call bass, and treble. */
  bass: () => frequencyRangeText(bassHz),
  treble: () => frequencyRangeText(trebleHz),
  /** Up to where loudness counts to the bass share. */
  'bass-share-limit': () => frequencyText(bassShareUpToHz),
  /** The air of every number that is computed when the site is built. */
  temperature: (units: LengthUnit) => temperatureText(usualAir.temperatureC, units),
  /** Ears of somebody who stands. */
  'ear-height': (units: LengthUnit) => lengthText(earHeightM, units),
} satisfies Record<string, (units: LengthUnit) => string>

export type GivenName = keyof typeof givens
export const givenNames = Object.keys(givens) as GivenName[]

/**
 * How a given is written.
 *
 * @param page  where it is asked for, for the message
 * @throws Error that names the page, the name and the nearest that there are: MDX is not type-checked
 */
export function givenText(name: string, page: string): (units: LengthUnit) => string {
  if (Object.hasOwn(givens, name)) return givens[name as GivenName]
  throw new Error(`${page}: no given is called "${name}". Near it are ${nearestTo(name, givenNames).join(', ')}.`)
}
