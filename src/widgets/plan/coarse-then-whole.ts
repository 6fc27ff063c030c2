import type { PlanAnswer, PlanQuestion } from '../../engine/questions/plan/plan-terms.ts'
import type { Asking } from '../figure/asked.svelte.ts'

/** How long a plan rests before all of it is worked out, s: while something is dragged the coarse answers follow the hand. */
const restS = 0.1

/**
 * A plan's answer: coarse levels at once, with the loudness and the dips of the answer before, then all of it.
 *
 * @param before  the answer that is shown
 */
export async function coarseThenWhole(
  { ask, show, rest }: Pick<Asking<PlanAnswer>, 'ask' | 'show' | 'rest'>,
  question: PlanQuestion,
  before: () => PlanAnswer,
): Promise<PlanAnswer | undefined> {
  const coarse = await ask('planLevels', question)
  if (!coarse) return undefined
  const last = before()
  const places = coarse.places.map((place) => {
    const { heard = null, dips = [] } = last.places.find(({ id }) => id === place.id) ?? {}
    return { ...place, heard, dips }
  })
  show({ ...last, places })
  return (await rest(restS)) ? ask('planAnswer', question) : undefined
}
