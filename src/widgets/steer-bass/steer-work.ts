import type {
  SteerMerits,
  SteerQuestion,
  SteerSearchFound,
  SteerSuggestion,
  SteerTogether,
} from '../../engine/questions/steer/steer-terms.ts'
import type { SteerTogetherSolved } from '../../engine/questions/steer/together-lines.ts'
import type { Asking } from '../figure/asked.svelte.ts'

/** What a search has found so far. */
export type SteerSearch = {
  tried: number
  suggestion: SteerSuggestion | null
  /** What is left of each with one box late; null until it is known. */
  late: Record<'textbook' | 'best' | 'widest', SteerMerits | null>
}

/**
 * Searches spacing, delay, polarity and level for the reader's band, spacing by spacing; then what is left of the best and of
 * the book's setting with one box late.
 */
export async function searchFor(
  { ask, askEach, progress, show }: Asking<SteerSearch>,
  asked: SteerQuestion,
): Promise<SteerSearch | undefined> {
  const question = { ...asked, error: 'none' as const }
  const found: SteerSearch = { tried: 0, suggestion: null, late: { textbook: null, best: null, widest: null } }
  progress(0, 1)
  const plan = await ask('steerSearchPlan', question)
  if (!plan) return undefined
  const candidates: SteerSearchFound[] = []
  let done = 0
  const all = await askEach('steerSearchStep', plan, (candidate, index) => {
    candidates[index] = candidate
    done += 1
    found.tried += candidate.tried
    show({ ...found })
    progress(done, plan.length)
  })
  if (!all) return undefined
  const suggestion = await ask('steerSuggestion', { ...question, candidates })
  if (!suggestion) return undefined
  found.suggestion = suggestion
  show({ ...found })
  const named = (['best', 'textbook', 'widest'] as const).flatMap((name) => {
    const set = suggestion[name]?.set
    return set ? [{ name, set }] : []
  })
  const settings = named.map(({ set }) => ({ ...question, set }))
  const errors = await askEach('steerAnswer', settings, ({ errors }, index) => {
    found.late = { ...found.late, [named[index]?.name ?? 'best']: errors.late }
    show({ ...found })
  })
  return errors ? found : undefined
}

/** Solves the boxes of a set together, frequency by frequency. */
export async function solveTogether(
  { ask, askEach, progress }: Asking<SteerTogether>,
  question: SteerQuestion,
): Promise<SteerTogether | undefined> {
  progress(0, 1)
  const plan = await ask('steerTogetherPlan', question)
  if (!plan) return undefined
  const steps: SteerTogetherSolved[] = []
  let done = 0
  progress(0, plan.length)
  const all = await askEach('steerTogetherStep', plan, (step, index) => {
    steps[index] = step
    done += 1
    progress(done, plan.length)
  })
  return all ? await ask('steerTogether', { ...question, steps }) : undefined
}
