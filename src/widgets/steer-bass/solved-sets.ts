import type { SteerQuestion } from '../../engine/questions/steer/steer-terms.ts'
import type { SteerTogetherSolved } from '../../engine/questions/steer/together-lines.ts'
import type { Asking } from '../figure/asked.svelte.ts'

/** Who is asked to solve, and told how far it is. */
export type Solving = Pick<Asking<never>, 'ask' | 'askEach'> & Partial<Pick<Asking<never>, 'progress'>>

/** The steps of one set: how many there are, and those that are solved, by frequency. */
type Steps = { planned: number | undefined; steps: Map<number, SteerTogetherSolved> }

/**
 * Sets solved as one body, by how their boxes stand and where it is heard: delay, polarity, level and band are only sums over them.
 * What is solved stays, also of a set that was left half-way.
 */
export class SolvedSets {
  readonly #revision: () => unknown
  readonly #kept = new Map<string, Steps>()

  /** @param revision  what the engine has learnt about boxes */
  constructor(revision: () => unknown) {
    this.#revision = revision
  }

  /** The same for all questions that one solution holds for. */
  keyOf({ air, rig, point, surroundings, front, behind, set }: SteerQuestion): string {
    const { arrangement, count, spacingM, turned } = set
    const stands = [arrangement, count, spacingM, turned]
    return JSON.stringify([air, rig, point, surroundings, front, behind, stands, this.#revision()])
  }

  /** All steps, where they are solved; empty where there is nothing to solve. */
  stepsOf(question: SteerQuestion): SteerTogetherSolved[] | undefined {
    const solving = this.#kept.get(this.keyOf(question))
    return solving && solving.planned === solving.steps.size ? [...solving.steps.values()] : undefined
  }

  /** Solves what is missing, frequency by frequency; undefined when the question was left. */
  async solve(
    { ask, askEach, progress }: Solving,
    question: SteerQuestion,
  ): Promise<SteerTogetherSolved[] | undefined> {
    const known = this.stepsOf(question)
    if (known) return known
    const solving = this.#solvingOf(this.keyOf(question))
    const plan = await ask('steerTogetherPlan', question)
    if (!plan) return undefined
    solving.planned = plan.length
    const missing = plan.filter(({ solvedHz }) => !solving.steps.has(solvedHz))
    progress?.(solving.steps.size, plan.length)
    const all = await askEach('steerTogetherStep', missing, (step) => {
      solving.steps.set(step.solvedHz, step)
      progress?.(solving.steps.size, plan.length)
    })
    return all ? this.stepsOf(question) : undefined
  }

  #solvingOf(key: string): Steps {
    const solving = this.#kept.get(key) ?? { planned: undefined, steps: new Map() }
    // Newest last; the oldest goes.
    this.#kept.delete(key)
    this.#kept.set(key, solving)
    if (this.#kept.size > mostKept) this.#kept.delete(this.#kept.keys().next().value as string)
    return solving
  }
}

/** A set takes some tens of kilobytes. */
const mostKept = 24
