import type { Fault } from '../../acoustics/index.ts'
import type { Take } from '../../engine/questions/compare/compare-terms.ts'
import type { PracticeName } from '../../engine/questions/compare/practice-terms.ts'
import { levelText } from '../../words/levels.ts'
import { shortText } from '../../words/numbers.ts'
import * as say from './compare.messages.ts'
import type { KeptStep, PlaceName } from './kept-test.ts'

// What became of a step, in words.

/** A time in a recording: '3.2 s'. */
export const seconds = (timeS: number): string => `${shortText(timeS, timeS < 10 ? 1 : 0)} s`

/** Name of a practice recording as messages spell it. */
export const practiceKey = (practice: PracticeName): string =>
  practice.replace(/-(\w)/g, (_, letter: string) => letter.toUpperCase())

/** A take of a step and the places that it was recorded at. */
export type PlacedTake = { place: PlaceName | 'both'; take: Take }

/** The takes of a step, in front first. */
export function placedTakes({ takes, front, behind }: KeptStep): PlacedTake[] {
  const of = (part: KeptStep['front']) => (part?.kind === 'take' ? takes[part.take] : undefined)
  const [first, second] = [of(front), of(behind)]
  if (first && first === second) return [{ place: 'both', take: first }]
  return [
    ...(first ? [{ place: 'front' as const, take: first }] : []),
    ...(second ? [{ place: 'behind' as const, take: second }] : []),
  ]
}

/** Where a step's levels came from. */
export function sourceWords({ front, behind }: Record<PlaceName, { name: string } | null>): string {
  if (!front || !behind) return ''
  return front.name === behind.name
    ? say.from({ name: front.name })
    : say.fromTwo({ front: front.name, behind: behind.name })
}

/** How much of a take counts, and whether that is enough. */
export function countedWords({ place, take }: PlacedTake): string {
  const counted = say.counted({ place, kept: seconds(take.keptS), whole: seconds(take.durationS) })
  const found = take.channels.map(({ confidence }) => confidence)
  if (found.some(({ widest }) => widest === null)) return `${counted} ${say.tooFew()}`
  if (found.every(({ isEnough }) => isEnough)) return `${counted} ${say.enough()}`
  const furtherS = Math.max(...found.map((each) => each.furtherS ?? 0))
  return `${counted} ${say.keepGoing({ further: seconds(Math.ceil(furtherS / 5) * 5) })}`
}

/** What the strip of a take is called. */
export const stripWords = ({ place, take }: PlacedTake): string => say.strip({ place, whole: seconds(take.durationS) })

/** As many are told one by one. */
const mostTold = 6

/** What was left out of a take, and why; both microphones at once count once. */
export function leftOutWords({ faults }: Take): string[] {
  const told = [...new Set(faults.map(faultWords))]
  if (told.length === 0) return [say.nothingLeftOut()]
  const more = told.length - mostTold
  return more > 0 ? [...told.slice(0, mostTold), say.leftOutMore({ count: more })] : told
}

const faultWords = ({ kind, fromS, toS, amountDb }: Fault): string =>
  say.leftOut({ kind, from: seconds(fromS), to: seconds(toS), amount: levelText(Math.abs(amountDb)) })
