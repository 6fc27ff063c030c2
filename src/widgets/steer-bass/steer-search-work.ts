import {
  type SteerMerits,
  type SteerQuestion,
  type SteerSearchFound,
  type SteerSet,
  type SteerSuggestion,
  type SteerTogether,
  usableRule,
} from '../../engine/questions/steer/steer-terms.ts'
import type { Asking } from '../figure/asked.svelte.ts'
import type { SolvedSets } from './solved-sets.ts'
import { isSolvedHere } from './steer-work.ts'

// Work that a reader asks for with a press: fetched then.

/** What a search has found so far. */
export type SteerSearch = {
  tried: number
  suggestion: SteerSuggestion | null
  /** Whether the suggestion is of boxes solved as one body. */
  asBody: boolean
  /** What is left of each with one box late; null until it is known. */
  late: Record<'textbook' | 'best' | 'widest', SteerMerits | null>
}

/**
 * Searches spacing, delay, polarity and level for the reader's band, spacing by spacing, with each box alone; solves the boxes as one
 * body where that promises most, and searches delay, polarity and level there; then what is left of the best and of the book's
 * setting with one box late.
 */
export async function searchFor(
  asking: Asking<SteerSearch>,
  asked: SteerQuestion,
  textbook: SteerSet | null,
  solved: SolvedSets,
): Promise<SteerSearch | undefined> {
  const { ask, askEach, progress, show } = asking
  const question = { ...asked, error: 'none' as const }
  const found: SteerSearch = {
    tried: 0,
    suggestion: null,
    asBody: false,
    late: { textbook: null, best: null, widest: null },
  }
  progress(0, 1)
  const plan = await ask('steerSearchPlan', question)
  if (!plan) return undefined
  const isSolved = isSolvedHere(question) && textbook !== null
  const total = plan.length * (isSolved ? 1 + solvingShare : 1)
  let done = 0
  const count = (candidate: SteerSearchFound) => {
    done += 1
    found.tried += candidate.tried
    show({ ...found })
    progress(Math.min(done, total), total)
  }
  const alone: SteerSearchFound[] = []
  const all = await askEach('steerSearchStep', plan, (candidate, index) => {
    alone[index] = candidate
    count(candidate)
  })
  if (!all) return undefined
  const atBodies = isSolved ? await searchBodies(asking, question, textbook, alone, solved, count) : []
  if (!atBodies) return undefined
  const [candidates, bodies] = atBodies.length > 0 ? [atBodies.map(({ found }) => found), atBodies] : [alone, []]
  const suggestion = await ask('steerSuggestion', { ...question, candidates, solved: bodies })
  if (!suggestion) return undefined
  found.asBody = bodies.length > 0
  found.suggestion = { ...suggestion, tried: found.tried + 1 }
  show({ ...found })
  const named = (['best', 'textbook', 'widest'] as const).flatMap((name) => {
    const set = suggestion[name]?.set
    return set ? [{ name, set }] : []
  })
  const settings = named.map(({ set }) => {
    const steps = solved.stepsOf({ ...question, set })
    return { ...question, set, ...(found.asBody && steps && { asBody: { steps } }) }
  })
  const errors = await askEach('steerAnswer', settings, ({ errors }, index) => {
    found.late = { ...found.late, [named[index]?.name ?? 'best']: errors.late }
    show({ ...found })
  })
  return errors ? found : undefined
}

/** Solving takes about so many times as long as the search with each box alone. */
const solvingShare = 2

/** What is found at the spacings worth solving, and at the book's; none where there is nothing to solve. */
async function searchBodies(
  { ask, askEach }: Asking<SteerSearch>,
  question: SteerQuestion,
  textbook: SteerSet,
  alone: readonly SteerSearchFound[],
  solved: SolvedSets,
  count: (candidate: SteerSearchFound) => void,
) {
  const byTheBook = { ...question, set: textbook }
  const bookSteps = await solved.solve({ ask, askEach }, byTheBook)
  if (!bookSteps) return undefined
  if (bookSteps.length === 0) return []
  const book = await ask('steerAnswer', { ...byTheBook, asBody: { steps: bookSteps } })
  if (!book) return undefined
  const mostFrontLossDb = Math.max(usableRule.frontLossDb, book.merits.frontLossDb)
  const sets = await ask('steerWorthSolving', { found: alone, mostFrontLossDb })
  if (!sets) return undefined
  const bodies = []
  for (const set of [textbook, ...sets]) {
    const steps = await solved.solve({ ask, askEach }, { ...question, set })
    if (!steps) return undefined
    if (steps.length === 0) continue
    const candidate = await ask('steerSearchStep', { ...question, set, mostFrontLossDb, steps })
    if (!candidate) return undefined
    count(candidate)
    bodies.push({ set, steps, found: candidate })
  }
  return bodies
}

/** What solving the boxes together changes against each of them alone, and how they are best trimmed then. */
export async function compareTogether(
  asking: Asking<SteerTogether>,
  question: SteerQuestion,
  solved: SolvedSets,
): Promise<SteerTogether | undefined> {
  const steps = await solved.solve(asking, question)
  return steps && asking.ask('steerTogether', { ...question, steps })
}
